/*
 * Bytes of the sensor protocol, version 1: layouts and rules in ../SPEC.md, which binds.
 * Everything is read and written byte by byte: any alignment, any byte order of the host.
 * Pointers are never NULL unless said.
 */
#ifndef RF_PROTOCOL_H
#define RF_PROTOCOL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define RF_VERSION 1u
#define RF_AXES 6u
#define RF_MAX_SAMPLES 40u
#define RF_HEADER_BYTES 14u
#define RF_SAMPLE_BYTES 12u
#define RF_MAGNETOMETER_BYTES 6u
#define RF_CRC_BYTES 2u
/** Bytes of a packet of `count` samples, with or without the magnetometer block. */
#define RF_PACKET_BYTES(count, has_magnetometer)                                                  \
    (RF_HEADER_BYTES + RF_SAMPLE_BYTES * (size_t)(count) +                                        \
     ((has_magnetometer) ? RF_MAGNETOMETER_BYTES : 0u) + RF_CRC_BYTES)
#define RF_MAX_PACKET_BYTES 502u
#define RF_INFO_BYTES 56u
#define RF_SERIAL_BYTES 8u
#define RF_MAX_RATES 8u
#define RF_MAX_REQUEST_BYTES 20u
#define RF_MAX_REPLY_BYTES 9u
/** Below this ATT MTU a sensor does not start. */
#define RF_LEAST_MTU 65u
/** ATT opcode and handle in front of a notification's value. */
#define RF_NOTIFICATION_BYTES 3u
/** Longest run that a resend may ask for, and most packets in a ring. */
#define RF_MAX_RUN 32767u

#define RF_FLAG_CLIPPED 0x01u
#define RF_FLAG_DROPPED 0x02u
#define RF_FLAG_RESENT 0x04u
#define RF_FLAG_MAGNETOMETER 0x08u

/** Why bytes or fields are refused. */
typedef enum rf_fault {
    RF_SOUND,
    RF_TOO_SHORT,
    RF_WRONG_VERSION,
    RF_BAD_COUNT,
    RF_LENGTH_MISMATCH,
    RF_BAD_CHECKSUM,
    RF_RESERVED_BITS,
    RF_BAD_SPAN,
    RF_BAD_TICK_RATE,
    RF_BAD_RATE,
    RF_BAD_RANGE,
    RF_BAD_SCALE
} rf_fault;

/** A stream packet without its samples. */
typedef struct rf_packet_head {
    bool clipped;
    bool dropped;
    bool resent;
    bool has_magnetometer;
    uint8_t count;
    uint16_t sequence;
    uint32_t first_tick;
    uint32_t span_ticks;
    /** mx my mz at the last sample, if has_magnetometer. */
    int16_t magnetometer[3];
} rf_packet_head;

/** The value of the *info* characteristic. */
typedef struct rf_info {
    /** In the order in which it is printed as hex. */
    uint8_t serial[RF_SERIAL_BYTES];
    /** Major, minor, patch. */
    uint8_t firmware[3];
    uint8_t rate_count;
    uint32_t tick_hz;
    uint16_t rate_hz;
    /** Ascending; places from rate_count on are 0. */
    uint16_t rates_hz[RF_MAX_RATES];
    uint16_t gyro_range_deg_s;
    uint16_t accel_range_g;
    uint16_t resend_packets;
    /** rad/s, m/s^2 and tesla per unit; the last is 0 without a magnetometer. */
    float gyro_scale_rad_s;
    float accel_scale_m_s2;
    float magnetometer_scale_t;
} rf_info;

typedef enum rf_opcode {
    RF_START = 1,
    RF_STOP = 2,
    RF_CONFIGURE = 3,
    RF_IDENTIFY = 4,
    RF_PING = 5,
    RF_RESEND = 6
} rf_opcode;

typedef enum rf_status {
    RF_OK = 0,
    RF_UNKNOWN_OPERATION = 1,
    RF_BAD_LENGTH = 2,
    RF_BAD_VALUE = 3,
    RF_MTU_TOO_SMALL = 4,
    RF_WRONG_STATE = 5,
    RF_GONE = 6,
    RF_HARDWARE_FAULT = 7
} rf_status;

/** What was written to *control*; fields of other operations are 0. */
typedef struct rf_request {
    uint8_t opcode;
    uint8_t tag;
    /** configure */
    uint16_t rate_hz;
    uint16_t gyro_range_deg_s;
    uint16_t accel_range_g;
    /** identify */
    uint8_t seconds;
    /** resend */
    uint16_t first_sequence;
    uint16_t count;
} rf_request;

/** What is indicated on *control*. */
typedef struct rf_reply {
    /** As in the request, any number. */
    uint8_t opcode;
    uint8_t tag;
    rf_status status;
    /** start: of the next new packet; resend: the first of the run. */
    uint16_t sequence;
    /** resend */
    uint16_t count;
    /** start, ping */
    uint32_t tick;
} rf_reply;

/** CRC-16/IBM-3740 (CCITT-FALSE); 0x29B1 for "123456789". */
uint16_t rf_crc16(const uint8_t *bytes, size_t length);

/** The first of bad-count and bad-span that the fields have. */
rf_fault rf_check_packet(const rf_packet_head *head);

/** The first of bad-tick-rate, bad-rate, bad-range and bad-scale that the fields have. */
rf_fault rf_check_info(const rf_info *info);

/** Whether *info* gives a scale of the magnetometer. */
bool rf_has_magnetometer(const rf_info *info);

/** Writes sample number `index` (gx gy gz ax ay az) of the packet at `packet`. */
void rf_put_sample(uint8_t *packet, size_t index, const int16_t values[RF_AXES]);

/**
 * Writes head, magnetometer and crc around the samples that are already at `packet`.
 * @return bytes of the packet; 0, and nothing written, when rf_check_packet() names a fault
 */
size_t rf_seal_packet(const rf_packet_head *head, uint8_t *packet);

/** Sets the flag *resent* of a sealed packet, and its crc. */
void rf_mark_resent(uint8_t *packet, size_t length);

/** Writes *info*. @return false, and nothing written, when rf_check_info() names a fault */
bool rf_encode_info(const rf_info *info, uint8_t out[RF_INFO_BYTES]);

/**
 * Reads a request. Opcode and tag of `out` are set in any case.
 * @param bytes may be NULL when length is 0
 * @return RF_OK, or the status to answer with: unknown-operation, bad-length, bad-value
 */
rf_status rf_decode_request(const uint8_t *bytes, size_t length, rf_request *out);

/** Writes an answer. @return its bytes, 3 to 9 */
size_t rf_encode_reply(const rf_reply *reply, uint8_t out[RF_MAX_REPLY_BYTES]);

#endif
