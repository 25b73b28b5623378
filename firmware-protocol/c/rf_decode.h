/*
 * The receiver's side: checks in the order of ../SPEC.md and names the first fault. A sensor does
 * not need this file; a gateway, a test bench or a self-test does.
 */
#ifndef RF_DECODE_H
#define RF_DECODE_H

#include "rf_protocol.h"

/**
 * Reads a stream packet and nothing outside `bytes`.
 * @param bytes one whole notification; may be NULL when length is 0
 * @param samples gx gy gz ax ay az of each sample; head->count of them are set when sound
 */
rf_fault rf_decode_packet(const uint8_t *bytes, size_t length, rf_packet_head *head,
                          int16_t samples[RF_MAX_SAMPLES * RF_AXES]);

/** Reads the value of *info* and nothing outside `bytes`, which may be NULL when length is 0. */
rf_fault rf_decode_info(const uint8_t *bytes, size_t length, rf_info *info);

#endif
