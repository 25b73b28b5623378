/* Little-endian numbers at any alignment. For the files beside this one. */
#ifndef RF_BYTES_H
#define RF_BYTES_H

#include <stdint.h>
#include <string.h>

/** Fails to compile where float is not four bytes; its format must be IEEE 754 binary32. */
typedef char rf_float_has_four_bytes[sizeof(float) == 4u ? 1 : -1];

static inline void rf_put_u16(uint8_t *at, uint16_t value)
{
    at[0] = (uint8_t)(value & 0xffu);
    at[1] = (uint8_t)(value >> 8);
}

static inline uint16_t rf_get_u16(const uint8_t *at)
{
    return (uint16_t)(at[0] | ((unsigned)at[1] << 8));
}

static inline void rf_put_u32(uint8_t *at, uint32_t value)
{
    rf_put_u16(at, (uint16_t)(value & 0xffffu));
    rf_put_u16(at + 2, (uint16_t)(value >> 16));
}

static inline uint32_t rf_get_u32(const uint8_t *at)
{
    return rf_get_u16(at) | ((uint32_t)rf_get_u16(at + 2) << 16);
}

/** Without a conversion that C leaves to the compiler. */
static inline int16_t rf_get_i16(const uint8_t *at)
{
    const int32_t value = rf_get_u16(at);
    return (int16_t)(value < 0x8000 ? value : value - 0x10000);
}

static inline uint32_t rf_bits_of(float value)
{
    uint32_t bits;
    memcpy(&bits, &value, sizeof bits);
    return bits;
}

static inline float rf_float_of(uint32_t bits)
{
    float value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

#endif
