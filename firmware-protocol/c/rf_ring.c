#include "rf_ring.h"

#include "rf_bytes.h"

#define MAX_SLOTS (RF_MAX_RUN + 1u)
#define WANTED 0x8000u
#define LENGTH 0x7fffu

static uint16_t least(uint16_t a, uint16_t b)
{
    return a < b ? a : b;
}

/** The slot of the newest finished packet is 1 back, of the packet being filled 0. */
static uint8_t *slot_back(const rf_ring *ring, unsigned back)
{
    const unsigned at = ring->filling + (ring->filling < back ? ring->slots : 0u) - back;
    return ring->memory + (size_t)at * ring->slot_bytes;
}

static const uint8_t *packet_in(const uint8_t *slot, size_t *length)
{
    *length = rf_get_u16(slot) & LENGTH;
    return slot + RF_SLOT_HEAD_BYTES;
}

static void set_wanted(rf_ring *ring, uint8_t *slot, bool is_wanted)
{
    const uint16_t head = rf_get_u16(slot);
    if (((head & WANTED) != 0u) == is_wanted) return;
    rf_put_u16(slot, (uint16_t)(head ^ WANTED));
    ring->wanted = (uint16_t)(is_wanted ? ring->wanted + 1 : ring->wanted - 1);
}

static void end_wanting(rf_ring *ring)
{
    for (unsigned back = ring->kept; back > 0u && ring->wanted > 0u; back--) {
        set_wanted(ring, slot_back(ring, back), false);
    }
}

bool rf_ring_init(rf_ring *ring, uint8_t *memory, size_t memory_bytes, size_t packet_bytes)
{
    const size_t slot_bytes = RF_SLOT_HEAD_BYTES + packet_bytes;
    const size_t slots = memory_bytes / slot_bytes;
    memset(ring, 0, sizeof *ring);
    if (packet_bytes > RF_MAX_PACKET_BYTES || slots < 2u) return false;
    ring->memory = memory;
    ring->slot_bytes = (uint16_t)slot_bytes;
    ring->slots = (uint16_t)(slots < MAX_SLOTS ? slots : MAX_SLOTS);
    return true;
}

uint16_t rf_ring_capacity(const rf_ring *ring)
{
    return (uint16_t)(ring->slots - 1u);
}

uint8_t *rf_ring_filling(const rf_ring *ring)
{
    return slot_back(ring, 0) + RF_SLOT_HEAD_BYTES;
}

void rf_ring_finish(rf_ring *ring, size_t length, bool is_due)
{
    const uint16_t capacity = rf_ring_capacity(ring);
    /* The oldest packet's slot is filled next; it is no longer there to be sent again. */
    if (ring->kept == capacity) set_wanted(ring, slot_back(ring, capacity), false);
    rf_put_u16(slot_back(ring, 0), (uint16_t)length);
    ring->filling = (uint16_t)((ring->filling + 1u) % ring->slots);
    ring->next = (uint16_t)(ring->next + 1u);
    ring->kept = least((uint16_t)(ring->kept + 1u), capacity);
    if (is_due) ring->unsent = least((uint16_t)(ring->unsent + 1u), capacity);
}

uint16_t rf_ring_seek(const rf_ring *ring, uint16_t first, uint16_t count, uint16_t *found)
{
    const uint16_t oldest = (uint16_t)(ring->next - ring->kept);
    const uint16_t after_oldest = (uint16_t)(first - oldest);
    if (after_oldest < ring->kept) {
        *found = first;
        return least(count, (uint16_t)(ring->kept - after_oldest));
    }
    const uint16_t before_oldest = (uint16_t)(oldest - first);
    *found = oldest;
    return before_oldest < count ? least(ring->kept, (uint16_t)(count - before_oldest)) : 0;
}

void rf_ring_want(rf_ring *ring, uint16_t first, uint16_t count)
{
    const uint16_t back = (uint16_t)(ring->next - first);
    for (unsigned i = 0; i < count; i++) set_wanted(ring, slot_back(ring, back - i), true);
}

const uint8_t *rf_ring_take_unsent(rf_ring *ring, size_t *length)
{
    if (ring->unsent == 0u) return NULL;
    return packet_in(slot_back(ring, ring->unsent--), length);
}

const uint8_t *rf_ring_take_wanted(rf_ring *ring, size_t *length)
{
    for (unsigned back = ring->kept; back > 0u && ring->wanted > 0u; back--) {
        uint8_t *slot = slot_back(ring, back);
        if ((rf_get_u16(slot) & WANTED) == 0u) continue;
        set_wanted(ring, slot, false);
        return packet_in(slot, length);
    }
    return NULL;
}

void rf_ring_end_sending(rf_ring *ring)
{
    end_wanting(ring);
    ring->unsent = 0;
}

void rf_ring_forget(rf_ring *ring)
{
    end_wanting(ring);
    ring->kept = 0;
}

void rf_ring_drop_longer(rf_ring *ring, size_t bytes)
{
    const unsigned held = ring->kept > ring->unsent ? ring->kept : ring->unsent;
    unsigned fit = 0;
    size_t length;
    while (fit < held) {
        (void)packet_in(slot_back(ring, fit + 1u), &length);
        if (length > bytes) break;
        fit++;
    }
    if (fit == held) return;
    for (unsigned back = ring->kept; back > fit; back--) {
        set_wanted(ring, slot_back(ring, back), false);
    }
    ring->kept = least(ring->kept, (uint16_t)fit);
    ring->unsent = least(ring->unsent, (uint16_t)fit);
}
