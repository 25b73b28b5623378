"""Writes vectors.json beside this file: python3 firmware-protocol/make_vectors.py

Independent of the TypeScript codec: struct packs the bytes, binascii.crc_hqx with start 0xFFFF is
CRC-16/IBM-3740. The serials and samples are invented.
"""

import binascii
import json
import pathlib
import struct

vectors = []


def seal(body):
    return body + struct.pack("<H", binascii.crc_hqx(body, 0xFFFF))


def add(kind, name, comment, data, fault=None, fields=None):
    entry = {"id": name, "kind": kind, "comment": comment, "bytesHex": data.hex(), "valid": fault is None}
    if fault:
        entry["fault"] = fault
    if fields:
        entry["fields"] = fields
    vectors.append(entry)


def stream(samples, version=1, flags=0, sequence=0, tick=0, span=None, count=None, reserved=0, magnetometer=()):
    n = len(samples) // 6
    span = (10000 * (n - 1) if n else 0) if span is None else span
    head = struct.pack("<BBHIIBB", version, flags, sequence, tick, span, n if count is None else count, reserved)
    return head + struct.pack(f"<{len(samples) + len(magnetometer)}h", *samples, *magnetometer)


REST = [1, -2, 3, 0, 0, 2048]
TWO = REST + [-32768, 32767, 0, 16, -16, 2047]

add("stream", "one-sample", "smallest valid packet, sensor at rest", seal(stream(REST)), fields={
    "clipped": False, "dropped": False, "resent": False, "sequence": 0, "firstTick": 0, "spanTicks": 0, "samples": REST,
    "magnetometer": None})
add("stream", "two-samples-all-flags", "every flag, highest sequence and tick, ends of int16",
    seal(stream(TWO, flags=7, sequence=0xFFFF, tick=0xFFFFFFFF, span=5000)), fields={
        "clipped": True, "dropped": True, "resent": True, "sequence": 65535, "firstTick": 4294967295,
        "spanTicks": 5000, "samples": TWO, "magnetometer": None})
NINETEEN = [(i * 37) % 4001 - 2000 for i in range(19 * 6)]
add("stream", "nineteen-samples", "fills an ATT MTU of 247 (244 bytes of payload)",
    seal(stream(NINETEEN, sequence=258, tick=123456789, span=90000)), fields={
        "clipped": False, "dropped": False, "resent": False, "sequence": 258, "firstTick": 123456789,
        "spanTicks": 90000, "samples": NINETEEN, "magnetometer": None})
add("stream", "magnetometer", "a magnetometer block behind two samples",
    seal(stream(TWO, flags=8, sequence=7, tick=99, span=5000, magnetometer=(-32768, 0, 321))), fields={
        "clipped": False, "dropped": False, "resent": False, "sequence": 7, "firstTick": 99, "spanTicks": 5000,
        "samples": TWO, "magnetometer": [-32768, 0, 321]})
FORTY = [(i * 101) % 65536 - 32768 for i in range(40 * 6)]
add("stream", "forty-samples", "the most a packet may carry, as a 517 byte MTU allows; span at its end",
    seal(stream(FORTY, flags=4, sequence=1, tick=4294967000, span=0x7FFFFFFF)), fields={
        "clipped": False, "dropped": False, "resent": True, "sequence": 1, "firstTick": 4294967000,
        "spanTicks": 0x7FFFFFFF, "samples": FORTY, "magnetometer": None})
add("stream", "magnetometer-missing", "flag bit 3 without the block", seal(stream(REST, flags=8)), "length-mismatch")
add("stream", "magnetometer-unsaid", "the block without flag bit 3", seal(stream(REST, magnetometer=(1, 2, 3))),
    "length-mismatch")
add("stream", "empty", "no bytes at all", b"", "too-short")
add("stream", "header-without-checksum", "15 bytes: one short of the frame", stream([])[:14] + b"\0", "too-short")
add("stream", "version-2", "a later version, otherwise sound", seal(stream(REST, version=2)), "wrong-version")
add("stream", "version-0", "all zero bytes, as an unset buffer", bytes(28), "wrong-version")
add("stream", "count-0", "claims no samples", seal(stream([])), "bad-count")
add("stream", "count-41", "one more than the format allows", seal(stream(REST * 41)), "bad-count")
add("stream", "count-255-short", "hostile count, few bytes: must not read outside",
    seal(stream(REST, count=255)), "bad-count")
add("stream", "cut-in-sample", "last sample cut by a small MTU", seal(stream(TWO))[:-7], "length-mismatch")
add("stream", "one-byte-extra", "a byte after the checksum", seal(stream(REST)) + b"\0", "length-mismatch")
add("stream", "count-one-too-high", "count 3 with two samples, checksum right", seal(stream(TWO, count=3, span=20000)),
    "length-mismatch")
broken = bytearray(seal(stream(TWO)))
broken[20] ^= 0x10
add("stream", "one-bit-flipped", "one bit of a sample flipped", bytes(broken), "bad-checksum")
swapped = seal(stream(REST))
add("stream", "checksum-big-endian", "checksum bytes in the wrong order", swapped[:-2] + swapped[:-3:-1], "bad-checksum")
add("stream", "checksum-start-zero", "checksum started at 0 instead of 0xFFFF (another common CRC-16)",
    stream(REST) + struct.pack("<H", binascii.crc_hqx(stream(REST), 0)), "bad-checksum")
add("stream", "flag-bit-4", "a flag that version 1 reserves", seal(stream(REST, flags=16)), "reserved-bits")
add("stream", "reserved-byte", "byte 13 is not 0", seal(stream(REST, reserved=1)), "reserved-bits")
add("stream", "one-sample-with-span", "a single sample cannot span time", seal(stream(REST, span=1)), "bad-span")
add("stream", "two-samples-no-span", "two samples at the same tick", seal(stream(TWO, span=0)), "bad-span")
add("stream", "span-half-turn", "longer than half a turn of the tick counter", seal(stream(TWO, span=0x80000000)), "bad-span")


def info(version=1, reserved=0, rate_count=3, tick_hz=1000000, rate=200, rates=(100, 200, 400, 0, 0, 0, 0, 0),
         gyro_range=2000, accel_range=16, gyro_scale=0.001065264, accel_scale=0.0047884033, resend=320,
         magnetometer_scale=0.0):
    return struct.pack("<BB8s3BBIH8HHHffHf", version, reserved, bytes.fromhex("00a1b2c3d4e5f607"), 1, 20, 255,
                       rate_count, tick_hz, rate, *rates, gyro_range, accel_range, gyro_scale, accel_scale, resend, magnetometer_scale)


def f32(value):
    return struct.unpack("<f", struct.pack("<f", value))[0]


add("info", "info-valid", "a 6-axis part at 200 Hz, 2000 deg/s, 16 g", seal(info()), fields={
    "protocolVersion": 1, "serial": "00a1b2c3d4e5f607", "firmwareVersion": "1.20.255", "tickHz": 1000000,
    "rateHz": 200, "supportedRatesHz": [100, 200, 400], "gyroRangeDegS": 2000, "accelRangeG": 16,
    "gyroScaleRadS": f32(0.001065264), "accelScaleMS2": f32(0.0047884033), "resendPackets": 320,
    "magnetometerScaleT": None})
add("info", "info-magnetometer", "9 axes, one rate, no ring, slow clock",
    seal(info(rate_count=1, tick_hz=1000, rate=100, rates=(100, 0, 0, 0, 0, 0, 0, 0), resend=0, magnetometer_scale=1.5e-7)),
    fields={
        "protocolVersion": 1, "serial": "00a1b2c3d4e5f607", "firmwareVersion": "1.20.255", "tickHz": 1000,
        "rateHz": 100, "supportedRatesHz": [100], "gyroRangeDegS": 2000, "accelRangeG": 16,
        "gyroScaleRadS": f32(0.001065264), "accelScaleMS2": f32(0.0047884033), "resendPackets": 0,
        "magnetometerScaleT": f32(1.5e-7)})
add("info", "info-empty", "no bytes at all", b"", "too-short")
add("info", "info-version-9", "an unknown version, any length", b"\x09", "wrong-version")
add("info", "info-cut", "one byte missing", seal(info())[:-1], "length-mismatch")
add("info", "info-bit-flipped", "one bit of the serial flipped", bytes([b ^ (i == 4) for i, b in enumerate(seal(info()))]),
    "bad-checksum")
add("info", "info-reserved", "byte 1 is not 0", seal(info(reserved=128)), "reserved-bits")
add("info", "info-tick-999", "clock too coarse", seal(info(tick_hz=999)), "bad-tick-rate")
add("info", "info-rate-unlisted", "the rate in use is not supported", seal(info(rate=250)), "bad-rate")
add("info", "info-rate-count-9", "hostile count of rates", seal(info(rate_count=9)), "bad-rate")
add("info", "info-rates-unsorted", "rates do not ascend", seal(info(rates=(200, 100, 400, 0, 0, 0, 0, 0))), "bad-rate")
add("info", "info-range-0", "gyroscope range of zero", seal(info(gyro_range=0)), "bad-range")
add("info", "info-scale-nan", "scale is not a number", seal(info(gyro_scale=float("nan"))), "bad-scale")
add("info", "info-scale-negative", "scale below zero", seal(info(accel_scale=-0.1)), "bad-scale")
add("info", "info-scale-infinite", "scale without end", seal(info(accel_scale=float("inf"))), "bad-scale")
add("info", "info-magnetometer-nan", "magnetometer scale is not a number",
    seal(info(magnetometer_scale=float("nan"))), "bad-scale")
add("info", "info-tick-too-fast", "clock too fine", seal(info(tick_hz=1000001)), "bad-tick-rate")
add("info", "info-rate-count-0", "no rate at all", seal(info(rate_count=0, rates=(0,) * 8)), "bad-rate")
add("info", "info-rate-leftover", "a rate behind the count", seal(info(rate_count=2)), "bad-rate")


def request(name, comment, data, fault=None, fields=None):
    add("request", name, comment, data, fault, fields)


def reply(name, comment, data, fault=None, fields=None):
    add("reply", name, comment, data, fault, fields)


request("start", "tag 0", bytes([1, 0]), fields={"tag": 0, "op": "start"})
request("stop", "highest tag", bytes([2, 255]), fields={"tag": 255, "op": "stop"})
request("configure", "400 Hz, 4000 deg/s, 32 g", struct.pack("<BBHHH", 3, 9, 400, 4000, 32), fields={
    "tag": 9, "op": "configure", "rateHz": 400, "gyroRangeDegS": 4000, "accelRangeG": 32})
request("identify", "blink for five seconds", bytes([4, 1, 5]), fields={"tag": 1, "op": "identify", "seconds": 5})
request("ping", "", bytes([5, 77]), fields={"tag": 77, "op": "ping"})
request("resend", "a run over the wrap of the sequence", struct.pack("<BBHH", 6, 3, 65530, 12), fields={
    "tag": 3, "op": "resend", "firstSequence": 65530, "count": 12})
request("resend-longest", "the longest run", struct.pack("<BBHH", 6, 3, 1, 32767), fields={
    "tag": 3, "op": "resend", "firstSequence": 1, "count": 32767})
request("resend-too-long", "half of all sequences", struct.pack("<BBHH", 6, 3, 1, 32768), "bad-value")
request("no-bytes", "counts as opcode 0", b"", "unknown-operation")
request("opcode-0", "", bytes([0, 1]), "unknown-operation")
request("opcode-7", "one past the last", bytes([7, 1]), "unknown-operation")
request("opcode-of-an-answer", "the answer bit in a request", bytes([0x81, 1]), "unknown-operation")
request("no-tag", "one byte", bytes([1]), "bad-length")
request("start-with-field", "a byte too many", bytes([1, 1, 0]), "bad-length")
request("configure-cut", "a field cut", struct.pack("<BBHHH", 3, 9, 400, 4000, 32)[:-1], "bad-length")
request("identify-without-seconds", "", bytes([4, 1]), "bad-length")
request("resend-cut-with-count-0", "the length is looked at before the values", bytes([6, 1, 0, 0, 0]), "bad-length")
request("resend-nothing", "count 0", struct.pack("<BBHH", 6, 3, 1, 0), "bad-value")

reply("start-ok", "ends of both fields", struct.pack("<BBBHI", 0x81, 4, 0, 65535, 4294967295), fields={
    "tag": 4, "op": "start", "status": "ok", "nextSequence": 65535, "tick": 4294967295})
reply("stop-ok", "", bytes([0x82, 0, 0]), fields={"tag": 0, "op": "stop", "status": "ok"})
reply("configure-ok", "", bytes([0x83, 1, 0]), fields={"tag": 1, "op": "configure", "status": "ok"})
reply("identify-ok", "", bytes([0x84, 1, 0]), fields={"tag": 1, "op": "identify", "status": "ok"})
reply("ping-ok", "", struct.pack("<BBBI", 0x85, 255, 0, 123456), fields={"tag": 255, "op": "ping", "status": "ok", "tick": 123456})
reply("resend-ok", "", struct.pack("<BBBHH", 0x86, 1, 0, 65530, 12), fields={
    "tag": 1, "op": "resend", "status": "ok", "firstSequence": 65530, "count": 12})
for number, status, opcode, op in [(3, "bad-value", 3, "configure"), (4, "mtu-too-small", 1, "start"),
                                   (5, "wrong-state", 5, "ping"), (6, "gone", 6, "resend"),
                                   (7, "hardware-fault", 1, "start"), (2, "bad-length", 4, "identify")]:
    reply(f"{op}-{status}", "a refusal has no fields", bytes([opcode | 0x80, 8, number]), fields={
        "tag": 8, "op": op, "status": status})
reply("reply-empty", "", b"", "too-short")
reply("reply-two-bytes", "no status", bytes([0x81, 1]), "too-short")
reply("reply-without-answer-bit", "a request is no answer", bytes([0x01, 1, 0]), "unknown-answer")
reply("reply-opcode-9", "an operation that version 1 does not know", bytes([0x89, 1, 0]), "unknown-answer")
reply("reply-status-8", "one past the last status", bytes([0x82, 1, 8]), "unknown-answer")
reply("start-ok-cut", "no tick", struct.pack("<BBBH", 0x81, 4, 0, 1), "length-mismatch")
reply("refusal-with-fields", "fields only with ok", struct.pack("<BBBI", 0x85, 1, 5, 0), "length-mismatch")

pathlib.Path(__file__).with_name("vectors.json").write_text(
    json.dumps({"protocolVersion": 1, "madeBy": "make_vectors.py", "vectors": vectors}, indent=2) + "\n")
