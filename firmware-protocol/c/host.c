/*
 * Test driver: one command a line on stdin, one line of answer each on stdout. Built and run by
 * tests/firmware. Numbers are decimal, bytes hex ("-" for none), floats the hex of their bits.
 *
 *   packet HEX | info HEX | request HEX       what the bytes say, or the named fault
 *   encode-packet c d r m SEQUENCE TICK SPAN COUNT mx my mz values...
 *   encode-info SERIAL a b c RATES TICKHZ RATE r0..r7 GYRO ACCEL PACKETS gyro accel magnetometer
 *   encode-reply OPCODE TAG STATUS SEQUENCE COUNT TICK
 *   sensor PACKETS SAMPLES TICKHZ RATE MAGNETOMETER RESENDS    a new one
 *   time TICK | sequence N (only when idle) | part 0|1 (answers or not)
 *   samples TICK INTERVAL HEX [mx my mz]      int16 values; the magnetometer's with the last sample
 *   fifo TICK HEX | gap | fault | poll | link-up MTU | link-lost | write HEX
 *   answers | fetch | drain                   all that is due; drain lets time pass meanwhile
 *   read-info | state | wanted (packets still to be sent again)
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rf_bytes.h"
#include "rf_decode.h"
#include "rf_sensor.h"

#define LINE_BYTES 16384

static const char *const fault_names[] = {
    "sound",        "too-short",     "wrong-version", "bad-count",     "length-mismatch",
    "bad-checksum", "reserved-bits", "bad-span",      "bad-tick-rate", "bad-rate",
    "bad-range",    "bad-scale",
};
static const char *const status_names[] = {
    "ok",          "unknown-operation", "bad-length", "bad-value", "mtu-too-small",
    "wrong-state", "gone",              "hardware-fault",
};
static const char *const state_names[] = {"idle", "streaming", "holding"};

/* The board that is simulated. */
static rf_sensor sensor;
static uint8_t *memory;
static uint32_t tick;
static bool part_answers = true;
static bool part_samples;
static bool is_lit;

static uint32_t tick_now(void *context)
{
    (void)context;
    return tick;
}

static bool find_scales(void *context, const rf_setting *setting, rf_scales *out)
{
    const bool is_wide = setting->gyro_range_deg_s == 2000u && setting->accel_range_g == 16u;
    const bool is_narrow = setting->gyro_range_deg_s == 1000u && setting->accel_range_g == 8u;
    (void)context;
    out->gyro_rad_s = is_wide ? 0.001f : 0.0005f;
    out->accel_m_s2 = is_wide ? 0.005f : 0.0025f;
    out->gyro_end = 32767;
    out->accel_end = 32767;
    return is_wide || is_narrow;
}

static bool set_part(void *context, const rf_setting *setting, bool sampling)
{
    (void)context;
    (void)setting;
    if (part_answers) part_samples = sampling;
    return part_answers;
}

static void set_light(void *context, bool is_on)
{
    (void)context;
    is_lit = is_on;
}

/* Words of a line. */

static const char *next_word(void)
{
    const char *word = strtok(NULL, " \n");
    return word == NULL ? "" : word;
}

static uint32_t number(void)
{
    return (uint32_t)strtoul(next_word(), NULL, 10);
}

static float bits(void)
{
    return rf_float_of((uint32_t)strtoul(next_word(), NULL, 16));
}

static int16_t value(void)
{
    return (int16_t)strtol(next_word(), NULL, 10);
}

static uint8_t digit(char c)
{
    return (uint8_t)(c <= '9' ? c - '0' : c - 'a' + 10);
}

/** Bytes that end where their memory ends and begin at an odd address; to be freed from block. */
typedef struct bytes {
    uint8_t *block;
    uint8_t *at;
    size_t length;
} bytes;

static bytes hex(void)
{
    const char *word = next_word();
    bytes result = {NULL, NULL, word[0] == '-' ? 0 : strlen(word) / 2};
    result.block = malloc(result.length + 1u);
    if (result.block == NULL) exit(1);
    result.at = result.block + 1;
    for (size_t i = 0; i < result.length; i++) {
        result.at[i] = (uint8_t)(digit(word[2 * i]) << 4 | digit(word[2 * i + 1]));
    }
    return result;
}

static void print_hex(const uint8_t *at, size_t length)
{
    static const char digits[] = "0123456789abcdef";
    char text[2u * RF_MAX_PACKET_BYTES + 1u];
    for (size_t i = 0; i < length; i++) {
        text[2u * i] = digits[at[i] >> 4];
        text[2u * i + 1u] = digits[at[i] & 15u];
    }
    text[2u * length] = '\0';
    fputs(text, stdout);
}

/* Codec */

static void decode_packet(void)
{
    int16_t samples[RF_MAX_SAMPLES * RF_AXES];
    rf_packet_head head;
    const bytes input = hex();
    const rf_fault fault = rf_decode_packet(input.at, input.length, &head, samples);
    free(input.block);
    printf("%s", fault_names[fault]);
    if (fault != RF_SOUND) return;
    printf(" %d %d %d %d", head.clipped, head.dropped, head.resent, head.has_magnetometer);
    printf(" %u %lu", (unsigned)head.sequence, (unsigned long)head.first_tick);
    printf(" %lu %u", (unsigned long)head.span_ticks, (unsigned)head.count);
    for (size_t i = 0; i < 3u; i++) printf(" %d", head.magnetometer[i]);
    for (size_t i = 0; i < head.count * RF_AXES; i++) printf(" %d", samples[i]);
}

static void encode_packet(void)
{
    rf_packet_head head;
    head.clipped = number() != 0u;
    head.dropped = number() != 0u;
    head.resent = number() != 0u;
    head.has_magnetometer = number() != 0u;
    head.sequence = (uint16_t)number();
    head.first_tick = number();
    head.span_ticks = number();
    head.count = (uint8_t)number();
    for (size_t i = 0; i < 3u; i++) head.magnetometer[i] = value();
    const size_t length = RF_PACKET_BYTES(head.count, head.has_magnetometer);
    /* Not a byte more than the packet has, and at an odd address. */
    uint8_t *block = malloc(length + 1u);
    if (block == NULL) exit(1);
    for (size_t i = 0; i < head.count; i++) {
        int16_t values[RF_AXES];
        for (size_t k = 0; k < RF_AXES; k++) values[k] = value();
        rf_put_sample(block + 1, i, values);
    }
    if (rf_seal_packet(&head, block + 1) == length) print_hex(block + 1, length);
    else fputs("refused", stdout);
    free(block);
}

static void print_info(const rf_info *info)
{
    putchar(' ');
    print_hex(info->serial, RF_SERIAL_BYTES);
    for (size_t i = 0; i < 3u; i++) printf(" %u", (unsigned)info->firmware[i]);
    printf(" %u %lu", (unsigned)info->rate_count, (unsigned long)info->tick_hz);
    printf(" %u", (unsigned)info->rate_hz);
    for (size_t i = 0; i < RF_MAX_RATES; i++) printf(" %u", (unsigned)info->rates_hz[i]);
    printf(" %u %u", (unsigned)info->gyro_range_deg_s, (unsigned)info->accel_range_g);
    printf(" %u", (unsigned)info->resend_packets);
    printf(" %08lx", (unsigned long)rf_bits_of(info->gyro_scale_rad_s));
    printf(" %08lx", (unsigned long)rf_bits_of(info->accel_scale_m_s2));
    printf(" %08lx", (unsigned long)rf_bits_of(info->magnetometer_scale_t));
}

static void decode_info(void)
{
    rf_info info;
    const bytes input = hex();
    const rf_fault fault = rf_decode_info(input.at, input.length, &info);
    free(input.block);
    printf("%s", fault_names[fault]);
    if (fault == RF_SOUND) print_info(&info);
}

static void encode_info(void)
{
    rf_info info;
    uint8_t out[RF_INFO_BYTES];
    const bytes serial = hex();
    memcpy(info.serial, serial.at, RF_SERIAL_BYTES);
    free(serial.block);
    for (size_t i = 0; i < 3u; i++) info.firmware[i] = (uint8_t)number();
    info.rate_count = (uint8_t)number();
    info.tick_hz = number();
    info.rate_hz = (uint16_t)number();
    for (size_t i = 0; i < RF_MAX_RATES; i++) info.rates_hz[i] = (uint16_t)number();
    info.gyro_range_deg_s = (uint16_t)number();
    info.accel_range_g = (uint16_t)number();
    info.resend_packets = (uint16_t)number();
    info.gyro_scale_rad_s = bits();
    info.accel_scale_m_s2 = bits();
    info.magnetometer_scale_t = bits();
    if (rf_encode_info(&info, out)) print_hex(out, sizeof out);
    else fputs("refused", stdout);
}

static void decode_request(void)
{
    rf_request request;
    const bytes input = hex();
    const rf_status status = rf_decode_request(input.at, input.length, &request);
    free(input.block);
    printf("%s %u %u", status_names[status], (unsigned)request.opcode, (unsigned)request.tag);
    printf(" %u %u", (unsigned)request.rate_hz, (unsigned)request.gyro_range_deg_s);
    printf(" %u %u", (unsigned)request.accel_range_g, (unsigned)request.seconds);
    printf(" %u %u", (unsigned)request.first_sequence, (unsigned)request.count);
}

static void encode_reply(void)
{
    rf_reply reply;
    uint8_t out[RF_MAX_REPLY_BYTES];
    reply.opcode = (uint8_t)number();
    reply.tag = (uint8_t)number();
    reply.status = (rf_status)number();
    reply.sequence = (uint16_t)number();
    reply.count = (uint16_t)number();
    reply.tick = number();
    print_hex(out, rf_encode_reply(&reply, out));
}

/* Sensor */

static void new_sensor(void)
{
    static const rf_info info = {
        {1, 2, 3, 4, 5, 6, 7, 8}, {1, 0, 0}, 3, 0, 0, {100, 200, 400, 0, 0, 0, 0, 0}, 2000, 16, 0,
        0.0f, 0.0f, 0.0f,
    };
    rf_sensor_config config = {
        {NULL, tick_now, find_scales, set_part, set_light}, info, 0, NULL, 0, true,
    };
    const uint32_t packets = number();
    config.samples_per_packet = (uint8_t)number();
    config.info.tick_hz = number();
    config.info.rate_hz = (uint16_t)number();
    const bool has_magnetometer = number() != 0u;
    config.info.magnetometer_scale_t = has_magnetometer ? 1.5e-7f : 0.0f;
    config.resends = number() != 0u;
    const size_t packet_bytes = RF_PACKET_BYTES(config.samples_per_packet, has_magnetometer);
    config.memory_bytes = RF_RING_BYTES(packets, packet_bytes);
    free(memory);
    memory = malloc(config.memory_bytes);
    if (memory == NULL) exit(1);
    config.memory = memory;
    part_answers = true;
    part_samples = false;
    is_lit = false;
    fputs(rf_sensor_init(&sensor, &config) ? "ok" : "refused", stdout);
}

/** A sequence may begin anew with any number when the sensor is started from idle. */
static void set_sequence(void)
{
    const uint16_t sequence = (uint16_t)number();
    rf_sensor_poll(&sensor);
    if (sensor.state == RF_IDLE) sensor.ring.next = sequence;
}

/** The next of the sample's values in `input`, which is used up. */
static void take_sample(bytes *input, int16_t values[RF_AXES])
{
    for (size_t i = 0; i < RF_AXES; i++) values[i] = rf_get_i16(input->at + 2u * i);
    input->at += RF_SAMPLE_BYTES;
    input->length -= RF_SAMPLE_BYTES;
}

static void give_samples(void)
{
    uint32_t at = number();
    const uint32_t interval = number();
    bytes input = hex();
    const char *word = next_word();
    int16_t magnetometer[3] = {(int16_t)strtol(word, NULL, 10), 0, 0};
    for (size_t i = 1; i < 3u; i++) magnetometer[i] = value();
    while (input.length >= RF_SAMPLE_BYTES) {
        int16_t values[RF_AXES];
        take_sample(&input, values);
        const bool has_magnetometer = word[0] != '\0' && input.length < RF_SAMPLE_BYTES;
        rf_sensor_sample(&sensor, at, values, has_magnetometer ? magnetometer : NULL);
        at += interval;
    }
    free(input.block);
}

static void give_fifo(void)
{
    int16_t values[64u * RF_AXES];
    const uint32_t at = number();
    bytes input = hex();
    size_t count = 0;
    while (input.length >= RF_SAMPLE_BYTES && count < 64u) {
        take_sample(&input, values + RF_AXES * count++);
    }
    free(input.block);
    rf_sensor_fifo(&sensor, at, values, count);
}

static void write_control(void)
{
    const bytes input = hex();
    printf("%u", (unsigned)rf_sensor_on_write(&sensor, input.at, input.length));
    free(input.block);
}

static void print_answers(void)
{
    uint8_t out[RF_MAX_REPLY_BYTES];
    size_t length;
    fputs("answers", stdout);
    while ((length = rf_sensor_next_answer(&sensor, out)) > 0u) {
        putchar(' ');
        print_hex(out, length);
    }
}

static void print_due(void)
{
    uint8_t out[RF_MAX_PACKET_BYTES];
    size_t length;
    while ((length = rf_sensor_next_notification(&sensor, out)) > 0u) {
        putchar(' ');
        print_hex(out, length);
    }
}

static void fetch(void)
{
    fputs("packets", stdout);
    print_due();
}

static void drain(void)
{
    fetch();
    for (unsigned left = sensor.ring.wanted; left > 0u; left--) {
        tick += sensor.info.tick_hz / 200u;
        print_due();
    }
}

static void read_info(void)
{
    uint8_t out[RF_INFO_BYTES];
    rf_sensor_info(&sensor, out);
    print_hex(out, sizeof out);
}

static void print_state(void)
{
    printf("%s %s %s", state_names[sensor.state], part_samples ? "samples" : "rests",
           is_lit ? "lit" : "dark");
}

static void run(const char *command)
{
    if (strcmp(command, "packet") == 0) decode_packet();
    else if (strcmp(command, "info") == 0) decode_info();
    else if (strcmp(command, "request") == 0) decode_request();
    else if (strcmp(command, "encode-packet") == 0) encode_packet();
    else if (strcmp(command, "encode-info") == 0) encode_info();
    else if (strcmp(command, "encode-reply") == 0) encode_reply();
    else if (strcmp(command, "sensor") == 0) new_sensor();
    else if (strcmp(command, "time") == 0) tick = number();
    else if (strcmp(command, "sequence") == 0) set_sequence();
    else if (strcmp(command, "part") == 0) part_answers = number() != 0u;
    else if (strcmp(command, "samples") == 0) give_samples();
    else if (strcmp(command, "fifo") == 0) give_fifo();
    else if (strcmp(command, "gap") == 0) rf_sensor_gap(&sensor);
    else if (strcmp(command, "fault") == 0) rf_sensor_on_fault(&sensor);
    else if (strcmp(command, "poll") == 0) rf_sensor_poll(&sensor);
    else if (strcmp(command, "link-up") == 0) rf_sensor_on_link_up(&sensor, (uint16_t)number());
    else if (strcmp(command, "link-lost") == 0) rf_sensor_on_link_lost(&sensor);
    else if (strcmp(command, "write") == 0) write_control();
    else if (strcmp(command, "answers") == 0) print_answers();
    else if (strcmp(command, "fetch") == 0) fetch();
    else if (strcmp(command, "drain") == 0) drain();
    else if (strcmp(command, "read-info") == 0) read_info();
    else if (strcmp(command, "state") == 0) print_state();
    else if (strcmp(command, "wanted") == 0) printf("wanted %u", (unsigned)sensor.ring.wanted);
    else printf("unknown command %s", command);
}

int main(void)
{
    static char line[LINE_BYTES];
    while (fgets(line, sizeof line, stdin) != NULL) {
        const char *command = strtok(line, " \n");
        if (command == NULL) continue;
        run(command);
        putchar('\n');
    }
    free(memory);
    return 0;
}
