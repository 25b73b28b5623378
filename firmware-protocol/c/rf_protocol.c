#include "rf_protocol.h"

#include "rf_bytes.h"

#define MIN_TICK_HZ 1000u
#define MAX_TICK_HZ 1000000u
/** A packet longer than half a turn of the tick counter could not be put in order. */
#define MAX_SPAN_TICKS 0x7fffffffu
#define ANSWER 0x80u
#define INFO_CRC_AT 54u

uint16_t rf_crc16(const uint8_t *bytes, size_t length)
{
    /* Remainders of the 16 possible high nibbles, polynomial 0x1021. */
    static const uint16_t remainders[16] = {
        0x0000, 0x1021, 0x2042, 0x3063, 0x4084, 0x50a5, 0x60c6, 0x70e7,
        0x8108, 0x9129, 0xa14a, 0xb16b, 0xc18c, 0xd1ad, 0xe1ce, 0xf1ef,
    };
    uint16_t crc = 0xffffu;
    for (size_t i = 0; i < length; i++) {
        crc = (uint16_t)((crc << 4) ^ remainders[(crc >> 12) ^ (bytes[i] >> 4)]);
        crc = (uint16_t)((crc << 4) ^ remainders[(crc >> 12) ^ (bytes[i] & 0x0fu)]);
    }
    return crc;
}

rf_fault rf_check_packet(const rf_packet_head *head)
{
    if (head->count < 1u || head->count > RF_MAX_SAMPLES) return RF_BAD_COUNT;
    if (head->count == 1u) return head->span_ticks == 0u ? RF_SOUND : RF_BAD_SPAN;
    const bool fits = head->span_ticks >= head->count - 1u && head->span_ticks <= MAX_SPAN_TICKS;
    return fits ? RF_SOUND : RF_BAD_SPAN;
}

void rf_put_sample(uint8_t *packet, size_t index, const int16_t values[RF_AXES])
{
    uint8_t *at = packet + RF_HEADER_BYTES + index * RF_SAMPLE_BYTES;
    for (size_t i = 0; i < RF_AXES; i++) rf_put_u16(at + 2u * i, (uint16_t)values[i]);
}

static uint8_t flags_of(const rf_packet_head *head)
{
    unsigned flags = 0;
    if (head->clipped) flags |= RF_FLAG_CLIPPED;
    if (head->dropped) flags |= RF_FLAG_DROPPED;
    if (head->resent) flags |= RF_FLAG_RESENT;
    if (head->has_magnetometer) flags |= RF_FLAG_MAGNETOMETER;
    return (uint8_t)flags;
}

static void put_crc(uint8_t *bytes, size_t length)
{
    const size_t at = length - RF_CRC_BYTES;
    rf_put_u16(bytes + at, rf_crc16(bytes, at));
}

size_t rf_seal_packet(const rf_packet_head *head, uint8_t *packet)
{
    if (rf_check_packet(head) != RF_SOUND) return 0;
    packet[0] = RF_VERSION;
    packet[1] = flags_of(head);
    rf_put_u16(packet + 2, head->sequence);
    rf_put_u32(packet + 4, head->first_tick);
    rf_put_u32(packet + 8, head->span_ticks);
    packet[12] = head->count;
    packet[13] = 0;
    if (head->has_magnetometer) {
        uint8_t *at = packet + RF_HEADER_BYTES + RF_SAMPLE_BYTES * (size_t)head->count;
        for (size_t i = 0; i < 3u; i++) rf_put_u16(at + 2u * i, (uint16_t)head->magnetometer[i]);
    }
    const size_t length = RF_PACKET_BYTES(head->count, head->has_magnetometer);
    put_crc(packet, length);
    return length;
}

void rf_mark_resent(uint8_t *packet, size_t length)
{
    packet[1] = (uint8_t)(packet[1] | RF_FLAG_RESENT);
    put_crc(packet, length);
}

static bool rates_are_sound(const rf_info *info)
{
    if (info->rate_count < 1u || info->rate_count > RF_MAX_RATES) return false;
    bool has_rate_in_use = false;
    unsigned before = 0;
    for (size_t i = 0; i < info->rate_count; i++) {
        if (info->rates_hz[i] <= before) return false;
        before = info->rates_hz[i];
        if (before == info->rate_hz) has_rate_in_use = true;
    }
    for (size_t i = info->rate_count; i < RF_MAX_RATES; i++) {
        if (info->rates_hz[i] != 0u) return false;
    }
    return has_rate_in_use;
}

/** Finite and above zero, seen from its bits. */
static bool is_scale(float scale)
{
    const uint32_t bits = rf_bits_of(scale);
    return bits > 0u && bits < 0x7f800000u;
}

bool rf_has_magnetometer(const rf_info *info)
{
    /* Plus or minus zero. */
    return (rf_bits_of(info->magnetometer_scale_t) & 0x7fffffffu) != 0u;
}

rf_fault rf_check_info(const rf_info *info)
{
    if (info->tick_hz < MIN_TICK_HZ || info->tick_hz > MAX_TICK_HZ) return RF_BAD_TICK_RATE;
    if (!rates_are_sound(info)) return RF_BAD_RATE;
    if (info->gyro_range_deg_s == 0u || info->accel_range_g == 0u) return RF_BAD_RANGE;
    if (!is_scale(info->gyro_scale_rad_s) || !is_scale(info->accel_scale_m_s2)) return RF_BAD_SCALE;
    const bool is_sound = !rf_has_magnetometer(info) || is_scale(info->magnetometer_scale_t);
    return is_sound ? RF_SOUND : RF_BAD_SCALE;
}

bool rf_encode_info(const rf_info *info, uint8_t out[RF_INFO_BYTES])
{
    if (rf_check_info(info) != RF_SOUND) return false;
    out[0] = RF_VERSION;
    out[1] = 0;
    memcpy(out + 2, info->serial, RF_SERIAL_BYTES);
    memcpy(out + 10, info->firmware, 3);
    out[13] = info->rate_count;
    rf_put_u32(out + 14, info->tick_hz);
    rf_put_u16(out + 18, info->rate_hz);
    for (size_t i = 0; i < RF_MAX_RATES; i++) rf_put_u16(out + 20 + 2u * i, info->rates_hz[i]);
    rf_put_u16(out + 36, info->gyro_range_deg_s);
    rf_put_u16(out + 38, info->accel_range_g);
    rf_put_u32(out + 40, rf_bits_of(info->gyro_scale_rad_s));
    rf_put_u32(out + 44, rf_bits_of(info->accel_scale_m_s2));
    rf_put_u16(out + 48, info->resend_packets);
    rf_put_u32(out + 50, rf_bits_of(info->magnetometer_scale_t));
    rf_put_u16(out + INFO_CRC_AT, rf_crc16(out, INFO_CRC_AT));
    return true;
}

/** Bytes of a request, 0 for an unknown one. */
static size_t request_bytes(uint8_t opcode)
{
    switch (opcode) {
    case RF_START:
    case RF_STOP:
    case RF_PING: return 2;
    case RF_IDENTIFY: return 3;
    case RF_RESEND: return 6;
    case RF_CONFIGURE: return 8;
    default: return 0;
    }
}

rf_status rf_decode_request(const uint8_t *bytes, size_t length, rf_request *out)
{
    memset(out, 0, sizeof *out);
    if (length > 0u) out->opcode = bytes[0];
    if (length > 1u) out->tag = bytes[1];
    const size_t expected = request_bytes(out->opcode);
    if (expected == 0u) return RF_UNKNOWN_OPERATION;
    if (length != expected) return RF_BAD_LENGTH;
    if (out->opcode == RF_CONFIGURE) {
        out->rate_hz = rf_get_u16(bytes + 2);
        out->gyro_range_deg_s = rf_get_u16(bytes + 4);
        out->accel_range_g = rf_get_u16(bytes + 6);
    } else if (out->opcode == RF_IDENTIFY) {
        out->seconds = bytes[2];
    } else if (out->opcode == RF_RESEND) {
        out->first_sequence = rf_get_u16(bytes + 2);
        out->count = rf_get_u16(bytes + 4);
        if (out->count < 1u || out->count > RF_MAX_RUN) return RF_BAD_VALUE;
    }
    return RF_OK;
}

size_t rf_encode_reply(const rf_reply *reply, uint8_t out[RF_MAX_REPLY_BYTES])
{
    out[0] = (uint8_t)(reply->opcode | ANSWER);
    out[1] = reply->tag;
    out[2] = (uint8_t)reply->status;
    if (reply->status != RF_OK) return 3;
    switch (reply->opcode) {
    case RF_START:
        rf_put_u16(out + 3, reply->sequence);
        rf_put_u32(out + 5, reply->tick);
        return 9;
    case RF_PING: rf_put_u32(out + 3, reply->tick); return 7;
    case RF_RESEND:
        rf_put_u16(out + 3, reply->sequence);
        rf_put_u16(out + 5, reply->count);
        return 7;
    default: return 3;
    }
}
