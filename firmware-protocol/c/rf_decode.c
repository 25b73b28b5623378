#include "rf_decode.h"

#include "rf_bytes.h"

#define KNOWN_FLAGS                                                                               \
    (RF_FLAG_CLIPPED | RF_FLAG_DROPPED | RF_FLAG_RESENT | RF_FLAG_MAGNETOMETER)

static bool has_right_crc(const uint8_t *bytes, size_t length)
{
    const size_t at = length - RF_CRC_BYTES;
    return rf_get_u16(bytes + at) == rf_crc16(bytes, at);
}

static void read_head(const uint8_t *bytes, rf_packet_head *head)
{
    const unsigned flags = bytes[1];
    memset(head, 0, sizeof *head);
    head->clipped = (flags & RF_FLAG_CLIPPED) != 0u;
    head->dropped = (flags & RF_FLAG_DROPPED) != 0u;
    head->resent = (flags & RF_FLAG_RESENT) != 0u;
    head->has_magnetometer = (flags & RF_FLAG_MAGNETOMETER) != 0u;
    head->sequence = rf_get_u16(bytes + 2);
    head->first_tick = rf_get_u32(bytes + 4);
    head->span_ticks = rf_get_u32(bytes + 8);
    head->count = bytes[12];
}

rf_fault rf_decode_packet(const uint8_t *bytes, size_t length, rf_packet_head *head,
                          int16_t samples[RF_MAX_SAMPLES * RF_AXES])
{
    if (length < RF_HEADER_BYTES + RF_CRC_BYTES) return RF_TOO_SHORT;
    if (bytes[0] != RF_VERSION) return RF_WRONG_VERSION;
    read_head(bytes, head);
    if (rf_check_packet(head) == RF_BAD_COUNT) return RF_BAD_COUNT;
    if (length != RF_PACKET_BYTES(head->count, head->has_magnetometer)) return RF_LENGTH_MISMATCH;
    if (!has_right_crc(bytes, length)) return RF_BAD_CHECKSUM;
    if ((bytes[1] & ~KNOWN_FLAGS) != 0u || bytes[13] != 0u) return RF_RESERVED_BITS;
    const rf_fault fault = rf_check_packet(head);
    if (fault != RF_SOUND) return fault;
    const uint8_t *at = bytes + RF_HEADER_BYTES;
    for (size_t i = 0; i < head->count * RF_AXES; i++, at += 2) samples[i] = rf_get_i16(at);
    if (head->has_magnetometer) {
        for (size_t i = 0; i < 3u; i++, at += 2) head->magnetometer[i] = rf_get_i16(at);
    }
    return RF_SOUND;
}

static void read_info(const uint8_t *bytes, rf_info *info)
{
    memcpy(info->serial, bytes + 2, RF_SERIAL_BYTES);
    memcpy(info->firmware, bytes + 10, 3);
    info->rate_count = bytes[13];
    info->tick_hz = rf_get_u32(bytes + 14);
    info->rate_hz = rf_get_u16(bytes + 18);
    for (size_t i = 0; i < RF_MAX_RATES; i++) info->rates_hz[i] = rf_get_u16(bytes + 20 + 2u * i);
    info->gyro_range_deg_s = rf_get_u16(bytes + 36);
    info->accel_range_g = rf_get_u16(bytes + 38);
    info->gyro_scale_rad_s = rf_float_of(rf_get_u32(bytes + 40));
    info->accel_scale_m_s2 = rf_float_of(rf_get_u32(bytes + 44));
    info->resend_packets = rf_get_u16(bytes + 48);
    info->magnetometer_scale_t = rf_float_of(rf_get_u32(bytes + 50));
}

rf_fault rf_decode_info(const uint8_t *bytes, size_t length, rf_info *info)
{
    if (length < 1u) return RF_TOO_SHORT;
    if (bytes[0] != RF_VERSION) return RF_WRONG_VERSION;
    if (length != RF_INFO_BYTES) return RF_LENGTH_MISMATCH;
    if (!has_right_crc(bytes, length)) return RF_BAD_CHECKSUM;
    if (bytes[1] != 0u) return RF_RESERVED_BITS;
    read_info(bytes, info);
    return rf_check_info(info);
}
