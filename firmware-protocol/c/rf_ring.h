/*
 * The newest packets in slots of one size, in memory of the caller. One slot more than packets are
 * kept: it holds the packet being filled. Packets in the ring follow each other in sequence.
 */
#ifndef RF_RING_H
#define RF_RING_H

#include "rf_protocol.h"

/** In front of the packet in each slot: its length, and whether it was asked for. */
#define RF_SLOT_HEAD_BYTES 2u
/** Memory for a ring of `packets`, each of up to `packet_bytes`. */
#define RF_RING_BYTES(packets, packet_bytes)                                                      \
    (((size_t)(packets) + 1u) * (RF_SLOT_HEAD_BYTES + (size_t)(packet_bytes)))

typedef struct rf_ring {
    uint8_t *memory;
    uint16_t slots;
    uint16_t slot_bytes;
    /** Slot and sequence of the packet being filled. */
    uint16_t filling;
    uint16_t next;
    /** How many of the newest packets a resend may ask for. */
    uint16_t kept;
    /** How many of the newest packets have not been taken to be sent. */
    uint16_t unsent;
    /** How many of the kept packets were asked for and not been taken yet. */
    uint16_t wanted;
} rf_ring;

/**
 * @param memory stays the caller's; must live as long as the ring
 * @return false when not even two packets fit
 */
bool rf_ring_init(rf_ring *ring, uint8_t *memory, size_t memory_bytes, size_t packet_bytes);

/** Most packets that are kept, 1..32767. */
uint16_t rf_ring_capacity(const rf_ring *ring);

/** Where the packet being filled is to be written, up to packet_bytes. */
uint8_t *rf_ring_filling(const rf_ring *ring);

/** The packet being filled is complete. @param is_due to be sent as soon as it can */
void rf_ring_finish(rf_ring *ring, size_t length, bool is_due);

/**
 * The part of a run of sequences that is kept; the run may pass 65535.
 * @param count up to RF_MAX_RUN
 * @param found the first of that part
 * @return how many, 0 if none
 */
uint16_t rf_ring_seek(const rf_ring *ring, uint16_t first, uint16_t count, uint16_t *found);

/** Packets that rf_ring_seek() found are to be sent again, each once, however often asked. */
void rf_ring_want(rf_ring *ring, uint16_t first, uint16_t count);

/** The oldest packet that was not taken yet, which is now; NULL if there is none. */
const uint8_t *rf_ring_take_unsent(rf_ring *ring, size_t *length);

/** The oldest packet that is wanted, which it is no more; NULL if there is none. */
const uint8_t *rf_ring_take_wanted(rf_ring *ring, size_t *length);

/** Nothing is to be sent any more; all is kept. */
void rf_ring_end_sending(rf_ring *ring);

/** Nothing is kept any more; what is unsent still is to be sent. */
void rf_ring_forget(rf_ring *ring);

/** Drops the newest packet that is longer than `bytes` and all before it. */
void rf_ring_drop_longer(rf_ring *ring, size_t bytes);

#endif
