#include "rf_sensor.h"

#include <string.h>

#define HOLDING_S 60u
/** A packet is finished this long after its first sample: 100 ms less half an interval of polls. */
#define FILLING_MS 95u
#define RESENT_PER_S 200u
/** Changes of the light: twice on and twice off. */
#define BLINKS_PER_S 4u
#define ATT_INVALID_LENGTH 0x0du
#define ATT_NO_RESOURCES 0x11u

static uint32_t now_of(const rf_sensor *sensor)
{
    return sensor->board.tick_now(sensor->board.context);
}

/** Ticks since `then`; 0 when it is still to come. */
static uint32_t elapsed(uint32_t now, uint32_t then)
{
    const uint32_t ticks = now - then;
    return ticks < 0x80000000u ? ticks : 0;
}

static rf_setting setting_of(const rf_info *info)
{
    const rf_setting setting = {info->rate_hz, info->gyro_range_deg_s, info->accel_range_g};
    return setting;
}

static bool set_part(const rf_sensor *sensor, const rf_setting *setting, bool sampling)
{
    return sensor->board.set_part(sensor->board.context, setting, sampling);
}

/* Setting */

static bool is_offered(const rf_sensor *sensor, const rf_setting *setting, rf_scales *scales)
{
    bool has_rate = false;
    for (size_t i = 0; i < sensor->info.rate_count; i++) {
        if (sensor->info.rates_hz[i] == setting->rate_hz) has_rate = true;
    }
    if (!has_rate || setting->gyro_range_deg_s == 0u || setting->accel_range_g == 0u) return false;
    return sensor->board.find_scales(sensor->board.context, setting, scales);
}

static void use_setting(rf_sensor *sensor, const rf_setting *setting, const rf_scales *scales)
{
    sensor->scales = *scales;
    sensor->info.rate_hz = setting->rate_hz;
    sensor->info.gyro_range_deg_s = setting->gyro_range_deg_s;
    sensor->info.accel_range_g = setting->accel_range_g;
    sensor->info.gyro_scale_rad_s = scales->gyro_rad_s;
    sensor->info.accel_scale_m_s2 = scales->accel_m_s2;
    sensor->gap_ticks = 3u * sensor->info.tick_hz / (2u * setting->rate_hz);
}

bool rf_sensor_init(rf_sensor *sensor, const rf_sensor_config *config)
{
    memset(sensor, 0, sizeof *sensor);
    sensor->board = config->board;
    sensor->info = config->info;
    sensor->samples_per_packet = config->samples_per_packet;
    sensor->resends = config->resends;
    const rf_setting setting = setting_of(&config->info);
    rf_scales scales;
    if (config->info.rate_count > RF_MAX_RATES) return false;
    if (!is_offered(sensor, &setting, &scales)) return false;
    use_setting(sensor, &setting, &scales);
    if (rf_check_info(&sensor->info) != RF_SOUND) return false;
    const size_t samples = config->samples_per_packet;
    if (samples < 1u || samples > RF_MAX_SAMPLES) return false;
    const size_t bytes = RF_PACKET_BYTES(samples, rf_has_magnetometer(&sensor->info));
    if (!rf_ring_init(&sensor->ring, config->memory, config->memory_bytes, bytes)) return false;
    sensor->info.resend_packets = config->resends ? rf_ring_capacity(&sensor->ring) : 0;
    return true;
}

void rf_sensor_info(const rf_sensor *sensor, uint8_t out[RF_INFO_BYTES])
{
    (void)rf_encode_info(&sensor->info, out);
}

/* Packets */

static void finish_packet(rf_sensor *sensor)
{
    if (sensor->head.count == 0u) return;
    sensor->head.sequence = sensor->ring.next;
    const size_t length = rf_seal_packet(&sensor->head, rf_ring_filling(&sensor->ring));
    rf_ring_finish(&sensor->ring, length, sensor->state == RF_STREAMING);
    sensor->head.count = 0;
}

static bool is_clipped(const rf_sensor *sensor, const int16_t values[RF_AXES])
{
    for (size_t i = 0; i < RF_AXES; i++) {
        const int32_t value = values[i];
        const int32_t end = i < 3u ? sensor->scales.gyro_end : sensor->scales.accel_end;
        if (value >= end || value <= -end) return true;
    }
    return false;
}

static void begin_packet(rf_sensor *sensor, uint32_t tick)
{
    memset(&sensor->head, 0, sizeof sensor->head);
    sensor->head.first_tick = tick;
    sensor->head.dropped = sensor->is_after_gap;
    sensor->is_after_gap = false;
}

static void set_magnetometer(rf_sensor *sensor, const int16_t *magnetometer)
{
    rf_packet_head *head = &sensor->head;
    head->has_magnetometer = magnetometer != NULL && rf_has_magnetometer(&sensor->info);
    if (head->has_magnetometer) memcpy(head->magnetometer, magnetometer, sizeof head->magnetometer);
}

static void add_sample(rf_sensor *sensor, uint32_t tick, const int16_t values[RF_AXES],
                       const int16_t *magnetometer)
{
    rf_packet_head *head = &sensor->head;
    const bool is_ahead = elapsed(tick, sensor->newest_tick) > 0u;
    const bool is_near = tick - sensor->newest_tick <= sensor->gap_ticks;
    if (sensor->has_sample && !(is_ahead && is_near)) rf_sensor_gap(sensor);
    if (head->count == 0u) begin_packet(sensor, tick);
    rf_put_sample(rf_ring_filling(&sensor->ring), head->count, values);
    head->count = (uint8_t)(head->count + 1u);
    head->span_ticks = tick - head->first_tick;
    if (is_clipped(sensor, values)) head->clipped = true;
    set_magnetometer(sensor, magnetometer);
    sensor->newest_tick = tick;
    sensor->has_sample = true;
    if (head->count >= sensor->most_samples) finish_packet(sensor);
}

void rf_sensor_gap(rf_sensor *sensor)
{
    finish_packet(sensor);
    sensor->is_after_gap = sensor->has_sample;
    sensor->has_watermark = false;
}

/* States */

static void go_idle(rf_sensor *sensor)
{
    if (sensor->state == RF_IDLE) return;
    const rf_setting setting = setting_of(&sensor->info);
    (void)set_part(sensor, &setting, false);
    sensor->state = RF_IDLE;
    sensor->head.count = 0;
    rf_ring_forget(&sensor->ring);
}

static void end_holding(rf_sensor *sensor, uint32_t now)
{
    const bool is_over = elapsed(now, sensor->lost_tick) >= HOLDING_S * sensor->info.tick_hz;
    if (sensor->state == RF_HOLDING && is_over) go_idle(sensor);
}

void rf_sensor_sample(rf_sensor *sensor, uint32_t tick, const int16_t values[RF_AXES],
                      const int16_t *magnetometer)
{
    end_holding(sensor, now_of(sensor));
    if (sensor->state != RF_IDLE) add_sample(sensor, tick, values, magnetometer);
}

void rf_sensor_fifo(rf_sensor *sensor, uint32_t tick, const int16_t *values, size_t count)
{
    end_holding(sensor, now_of(sensor));
    if (sensor->state == RF_IDLE || count == 0u) return;
    const uint32_t before = sensor->watermark_tick;
    const uint32_t whole = (tick - before) / (uint32_t)count;
    const uint32_t rest = (tick - before) % (uint32_t)count;
    if (sensor->has_watermark && whole > sensor->gap_ticks) rf_sensor_gap(sensor);
    for (uint32_t i = 1; sensor->has_watermark && i <= count; i++) {
        const uint32_t at = before + i * whole + i * rest / (uint32_t)count;
        add_sample(sensor, at, values + (i - 1u) * RF_AXES, NULL);
    }
    /* Also of samples that were dropped. */
    sensor->newest_tick = tick;
    sensor->watermark_tick = tick;
    sensor->has_watermark = true;
}

void rf_sensor_on_fault(rf_sensor *sensor)
{
    go_idle(sensor);
    sensor->is_faulty = true;
}

void rf_sensor_on_link_up(rf_sensor *sensor, uint16_t mtu)
{
    sensor->is_linked = true;
    sensor->link_mtu = mtu;
}

void rf_sensor_on_link_lost(rf_sensor *sensor)
{
    sensor->is_linked = false;
    sensor->answer_count = 0;
    rf_ring_end_sending(&sensor->ring);
    if (sensor->state != RF_STREAMING) return;
    sensor->state = RF_HOLDING;
    sensor->lost_tick = now_of(sensor);
}

/* Requests */

/** The MTU of this link decides from now on. */
static void use_mtu(rf_sensor *sensor)
{
    const size_t frame = RF_PACKET_BYTES(0, rf_has_magnetometer(&sensor->info));
    const size_t room = (sensor->link_mtu - RF_NOTIFICATION_BYTES - frame) / RF_SAMPLE_BYTES;
    const uint8_t wished = sensor->samples_per_packet;
    sensor->most_samples = room < wished ? (uint8_t)room : wished;
    if (sensor->head.count >= sensor->most_samples) finish_packet(sensor);
    rf_ring_drop_longer(&sensor->ring, sensor->link_mtu - RF_NOTIFICATION_BYTES);
}

static rf_status leave_idle(rf_sensor *sensor)
{
    const rf_setting setting = setting_of(&sensor->info);
    const bool was_faulty = sensor->is_faulty;
    sensor->is_faulty = false;
    if (was_faulty || !set_part(sensor, &setting, true)) return RF_HARDWARE_FAULT;
    sensor->has_sample = false;
    sensor->is_after_gap = false;
    sensor->has_watermark = false;
    return RF_OK;
}

static rf_status start(rf_sensor *sensor, rf_reply *reply)
{
    if (sensor->link_mtu < RF_LEAST_MTU) return RF_MTU_TOO_SMALL;
    const rf_status status = sensor->state == RF_IDLE ? leave_idle(sensor) : RF_OK;
    if (status != RF_OK) return status;
    use_mtu(sensor);
    sensor->state = RF_STREAMING;
    reply->sequence = sensor->ring.next;
    reply->tick = now_of(sensor);
    return RF_OK;
}

static rf_status configure(rf_sensor *sensor, const rf_request *request)
{
    const rf_setting setting = {
        request->rate_hz,
        request->gyro_range_deg_s,
        request->accel_range_g,
    };
    rf_scales scales;
    if (!is_offered(sensor, &setting, &scales)) return RF_BAD_VALUE;
    if (sensor->state != RF_IDLE) return RF_WRONG_STATE;
    if (!set_part(sensor, &setting, false)) return RF_HARDWARE_FAULT;
    use_setting(sensor, &setting, &scales);
    return RF_OK;
}

static void update_light(rf_sensor *sensor, uint32_t now)
{
    const uint32_t since = elapsed(now, sensor->blink_tick);
    if (since >= sensor->blink_ticks) sensor->blink_ticks = 0;
    const uint32_t changes = since / (sensor->info.tick_hz / BLINKS_PER_S);
    const bool is_on = sensor->blink_ticks > 0u && changes % 2u == 0u;
    if (is_on == sensor->is_lit) return;
    sensor->is_lit = is_on;
    sensor->board.set_light(sensor->board.context, is_on);
}

static void identify(rf_sensor *sensor, uint8_t seconds)
{
    sensor->blink_tick = now_of(sensor);
    sensor->blink_ticks = seconds * sensor->info.tick_hz;
    update_light(sensor, sensor->blink_tick);
}

static rf_status resend(rf_sensor *sensor, const rf_request *request, rf_reply *reply)
{
    if (sensor->state != RF_STREAMING) return RF_WRONG_STATE;
    if (!sensor->resends) return RF_GONE;
    const uint16_t first = request->first_sequence;
    reply->count = rf_ring_seek(&sensor->ring, first, request->count, &reply->sequence);
    if (reply->count == 0u) return RF_GONE;
    rf_ring_want(&sensor->ring, reply->sequence, reply->count);
    return RF_OK;
}

static rf_status serve(rf_sensor *sensor, const rf_request *request, rf_reply *reply)
{
    switch (request->opcode) {
    case RF_START: return start(sensor, reply);
    case RF_STOP: go_idle(sensor); return RF_OK;
    case RF_CONFIGURE: return configure(sensor, request);
    case RF_IDENTIFY: identify(sensor, request->seconds); return RF_OK;
    case RF_PING: reply->tick = now_of(sensor); return RF_OK;
    default: return resend(sensor, request, reply);
    }
}

uint8_t rf_sensor_on_write(rf_sensor *sensor, const uint8_t *bytes, size_t length)
{
    if (length > RF_MAX_REQUEST_BYTES) return ATT_INVALID_LENGTH;
    if (sensor->answer_count == RF_ANSWERS) return ATT_NO_RESOURCES;
    end_holding(sensor, now_of(sensor));
    rf_request request;
    rf_reply reply;
    memset(&reply, 0, sizeof reply);
    reply.status = rf_decode_request(bytes, length, &request);
    reply.opcode = request.opcode;
    reply.tag = request.tag;
    if (reply.status == RF_OK) reply.status = serve(sensor, &request, &reply);
    const uint8_t place = sensor->answer_count++;
    sensor->answer_bytes[place] = (uint8_t)rf_encode_reply(&reply, sensor->answers[place]);
    return 0;
}

size_t rf_sensor_next_answer(rf_sensor *sensor, uint8_t out[RF_MAX_REPLY_BYTES])
{
    if (sensor->answer_count == 0u) return 0;
    const size_t length = sensor->answer_bytes[0];
    memcpy(out, sensor->answers[0], length);
    memmove(sensor->answers[0], sensor->answers[1], sizeof sensor->answers[1]);
    sensor->answer_bytes[0] = sensor->answer_bytes[1];
    sensor->answer_count--;
    return length;
}

/* Sending */

static size_t next_resent(rf_sensor *sensor, uint8_t *out)
{
    const uint32_t now = now_of(sensor);
    if (now - sensor->resent_tick < sensor->info.tick_hz / RESENT_PER_S) return 0;
    size_t length;
    const uint8_t *packet = rf_ring_take_wanted(&sensor->ring, &length);
    if (packet == NULL) return 0;
    memcpy(out, packet, length);
    rf_mark_resent(out, length);
    sensor->resent_tick = now;
    return length;
}

size_t rf_sensor_next_notification(rf_sensor *sensor, uint8_t *out)
{
    if (!sensor->is_linked || sensor->state == RF_HOLDING) return 0;
    size_t length;
    const uint8_t *packet = rf_ring_take_unsent(&sensor->ring, &length);
    if (packet == NULL) return next_resent(sensor, out);
    memcpy(out, packet, length);
    return length;
}

void rf_sensor_poll(rf_sensor *sensor)
{
    const uint32_t now = now_of(sensor);
    const uint32_t tick_hz = sensor->info.tick_hz;
    end_holding(sensor, now);
    const uint32_t filling = elapsed(now, sensor->head.first_tick);
    if (filling >= FILLING_MS * tick_hz / 1000u) finish_packet(sensor);
    /* Silence longer than a turn of the counter would not show in the ticks. */
    if (elapsed(now, sensor->newest_tick) > tick_hz) rf_sensor_gap(sensor);
    update_light(sensor, now);
}
