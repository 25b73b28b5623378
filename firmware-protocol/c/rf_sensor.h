/*
 * A sensor that speaks ../SPEC.md: what a board calls and what it must supply; see PORTING.md.
 * The calls of one sensor must never overlap: make them from one thread, none from an interrupt.
 * Ticks are those of the board's free-running counter; they wrap. Call rf_sensor_poll() at least
 * every 10 ms: the 100 ms, the 60 s and the light hang on it.
 */
#ifndef RF_SENSOR_H
#define RF_SENSOR_H

#include "rf_protocol.h"
#include "rf_ring.h"

/** What *configure* sets. */
typedef struct rf_setting {
    uint16_t rate_hz;
    uint16_t gyro_range_deg_s;
    uint16_t accel_range_g;
} rf_setting;

/** What follows from the ranges of a setting. */
typedef struct rf_scales {
    /** rad/s and m/s^2 per unit of a sample. */
    float gyro_rad_s;
    float accel_m_s2;
    /** Values this far from 0 or farther are clipped: 32767 where the part uses all of int16. */
    int16_t gyro_end;
    int16_t accel_end;
} rf_scales;

/** What a board supplies. None of these may call rf_sensor_*. */
typedef struct rf_board {
    /** Handed to every function. */
    void *context;
    /** The counter now. */
    uint32_t (*tick_now)(void *context);
    /**
     * Scales of a setting whose rate is one of *info*; does not touch the part.
     * @return false when the part does not offer these ranges
     */
    bool (*find_scales)(void *context, const rf_setting *setting, rf_scales *out);
    /**
     * Sets the part, and has it sample or rest. With FIFO: empties it.
     * @return false when the part does not answer
     */
    bool (*set_part)(void *context, const rf_setting *setting, bool sampling);
    /** Switches the light. */
    void (*set_light)(void *context, bool is_on);
} rf_board;

typedef struct rf_sensor_config {
    rf_board board;
    /** Rate and ranges: those after power-on. Scales and resend_packets are found by the sensor. */
    rf_info info;
    /** 10 is right for 100 to 400 Hz; fewer where the MTU does not allow so many. */
    uint8_t samples_per_packet;
    /** Ring: RF_RING_BYTES(packets, RF_PACKET_BYTES(samples_per_packet, has_magnetometer)). */
    uint8_t *memory;
    size_t memory_bytes;
    /** False when the memory is only a queue: *info* says 0 packets, every resend is `gone`. */
    bool resends;
} rf_sensor_config;

typedef enum rf_state { RF_IDLE, RF_STREAMING, RF_HOLDING } rf_state;

/** Answers that wait for the stack. */
#define RF_ANSWERS 2u

/** All of a sensor; to be read in a debugger, changed only by the functions below. */
typedef struct rf_sensor {
    rf_board board;
    rf_info info;
    rf_scales scales;
    rf_ring ring;
    rf_state state;
    bool is_linked;
    bool resends;
    /** The part died: the next start says so. */
    bool is_faulty;
    bool is_lit;
    uint8_t samples_per_packet;
    /** Samples per packet over this link. */
    uint8_t most_samples;
    uint16_t link_mtu;

    /** Of the packet being filled; count 0 while there is none. */
    rf_packet_head head;
    bool has_sample;
    bool is_after_gap;
    bool has_watermark;
    /** Of the newest sample, also of one that was dropped for want of a tick. */
    uint32_t newest_tick;
    uint32_t watermark_tick;
    /** Two samples farther apart than this have one missing between them. */
    uint32_t gap_ticks;

    uint32_t lost_tick;
    uint32_t resent_tick;
    uint32_t blink_tick;
    uint32_t blink_ticks;

    uint8_t answers[RF_ANSWERS][RF_MAX_REPLY_BYTES];
    uint8_t answer_bytes[RF_ANSWERS];
    uint8_t answer_count;
} rf_sensor;

/** After power-on. @return false when the configuration is not sound; does not touch the part */
bool rf_sensor_init(rf_sensor *sensor, const rf_sensor_config *config);

/** Value of *info* for a read at offset 0. */
void rf_sensor_info(const rf_sensor *sensor, uint8_t out[RF_INFO_BYTES]);

/**
 * One sample of the part, in order of time.
 * @param tick when the part latched it
 * @param values gx gy gz ax ay az
 * @param magnetometer mx my mz belonging to this sample, or NULL; ignored without a scale in *info*
 */
void rf_sensor_sample(rf_sensor *sensor, uint32_t tick, const int16_t values[RF_AXES],
                      const int16_t *magnetometer);

/**
 * `count` samples out of the part's FIFO, oldest first; their ticks are spread between watermarks.
 * The first after a start or a gap have no watermark before them and are dropped.
 * @param tick at which the watermark interrupt fired, for the newest of them
 * @param values gx gy gz ax ay az of each
 */
void rf_sensor_fifo(rf_sensor *sensor, uint32_t tick, const int16_t *values, size_t count);

/** Samples were lost here: an overflow of the FIFO. Gaps in the ticks are seen anyway. */
void rf_sensor_gap(rf_sensor *sensor);

/** The part died or the battery is empty: goes idle. */
void rf_sensor_on_fault(rf_sensor *sensor);

/** A central connected, or the ATT MTU changed. @param mtu 23 until it was exchanged */
void rf_sensor_on_link_up(rf_sensor *sensor, uint16_t mtu);

/** The link is gone, however it ended. */
void rf_sensor_on_link_lost(rf_sensor *sensor);

/**
 * *control* was written. Call without delay: the answer carries the tick of now.
 * @param bytes may be NULL when length is 0
 * @return 0 when the write succeeds, otherwise the ATT error: 0x0D too long, 0x11 a third request
 */
uint8_t rf_sensor_on_write(rf_sensor *sensor, const uint8_t *bytes, size_t length);

/** The next answer to indicate, when the one before is confirmed. @return its bytes, 0 if none */
size_t rf_sensor_next_answer(rf_sensor *sensor, uint8_t out[RF_MAX_REPLY_BYTES]);

/**
 * The next packet to notify. It counts as sent: call when the stack has room, and keep `out` when
 * it refuses nevertheless.
 * @param out room for RF_PACKET_BYTES(samples_per_packet, has_magnetometer)
 * @return its bytes, 0 if nothing is due now
 */
size_t rf_sensor_next_notification(rf_sensor *sensor, uint8_t *out);

/** Lets time pass. */
void rf_sensor_poll(rf_sensor *sensor);

#endif
