"""A demo set as the independent MCAP library of Python reads it, for tests/recording/independent-reader.test.ts.

Run: pip install mcap && python read-demo-mcap.py > demo-set.reference.json   (versions are in the output)
"""

import hashlib
import json
import platform
from importlib.metadata import version
from pathlib import Path

from mcap.reader import NonSeekingReader
from mcap.records import DataEnd
from mcap.stream_reader import StreamReader

NAME = "player-a-short-racket.mcap"
path = Path(__file__).parents[2] / "recorded-streams" / NAME

topics = {}
order = hashlib.sha256()
with path.open("rb") as stream:
    for schema, channel, message in NonSeekingReader(stream, validate_crcs=True).iter_messages(log_time_order=False):
        topic = topics.setdefault(
            channel.topic,
            {
                "messageEncoding": channel.message_encoding,
                "schema": schema.name if schema else None,
                "count": 0,
                "bytes": 0,
                "firstNs": message.log_time,
                "data": hashlib.sha256(),
            },
        )
        topic["count"] += 1
        topic["bytes"] += len(message.data)
        topic["lastNs"] = message.log_time
        topic["data"].update(message.data)
        order.update(f"{message.sequence} {message.log_time} {channel.topic}\n".encode())
for topic in topics.values():
    topic["dataSha256"] = topic.pop("data").hexdigest()

with path.open("rb") as stream:
    header = NonSeekingReader(stream).get_header()
with path.open("rb") as stream:
    metadata = next(iter(NonSeekingReader(stream).iter_metadata()))
with path.open("rb") as stream:
    ends = [r.data_section_crc for r in StreamReader(stream, validate_crcs=True).records if isinstance(r, DataEnd)]

print(
    json.dumps(
        {
            "made": f"tests/recording/read-demo-mcap.py, mcap {version('mcap')}, Python {platform.python_version()}",
            "file": NAME,
            "fileSha256": hashlib.sha256(path.read_bytes()).hexdigest(),
            "profile": header.profile,
            "metadataName": metadata.name,
            "setId": json.loads(metadata.metadata["description"])["setId"],
            "dataSectionCrcs": ends,
            "orderSha256": order.hexdigest(),
            "topics": topics,
        },
        indent=2,
    )
)
