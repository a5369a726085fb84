"""The tables as the newest migration leaves them. No table and no column can hold a voter or a vote."""

from sqlalchemy import (
    JSON,
    Boolean,
    Column,
    Float,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Time,
    UniqueConstraint,
    false,
)

from county.store.engine import UtcTime

REVISION = "0008"

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
        "pk": "pk_%(table_name)s",
    }
)

# append-only: triggers refuse any change, and any number but the next
ledger = Table(
    "ledger",
    metadata,
    Column("seq", Integer, primary_key=True, autoincrement=False),
    Column("key", String, nullable=False),
    Column("place", String, nullable=False),
    Column("sender", String, nullable=False),
    Column("kind", String, nullable=False),
    Column("content", String(64), nullable=False),
    Column("happened_at", UtcTime, nullable=False),
    Column("received_at", UtcTime, nullable=False),
    Column("entry", String, nullable=False),
    Column("previous", String(64), nullable=False),
    Column("digest", String(64), nullable=False),
    # key first, so that one look-up by key serves both
    UniqueConstraint("key", "place"),
    UniqueConstraint("key", "sender"),
)

set_aside = Table(
    "set_aside",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("set_aside_at", UtcTime, nullable=False),
    Column("key", String, nullable=False),
    Column("sender", String, nullable=False),
    Column("door", String, nullable=False),
    Column("reason", String, nullable=False),
    Column("problems", JSON, nullable=False),
    Column("raw", String, nullable=False),
    Column("source", String, nullable=False),
    Column("digest", String(64), nullable=False),
    UniqueConstraint("digest"),
)

places = Table(
    "places",
    metadata,
    Column("place", String, primary_key=True),
    Column("name", String, nullable=False),
    Column("address", String, nullable=False),
    Column("city", String, nullable=False),
    Column("latitude", Float),
    Column("longitude", Float),
    Column("opens", Time),
    Column("closes", Time),
    Column("zone", String, nullable=False),
    Column("phone", String, nullable=False),
    Column("registered", Integer),
    Column("ballots_delivered", Integer),
    Column("time_zone", String, nullable=False),
    Column("route", String, nullable=False),
    Column("serves", String, nullable=False),
    Column("also", JSON, nullable=False, server_default="[]"),
    Column("officers", Integer),
)

precincts = Table(
    "precincts",
    metadata,
    Column("precinct", String, primary_key=True),
    Column("name", String, nullable=False),
    # empty where no one place is meant: voting by mail, or at any vote centre
    Column("place", String, nullable=False),
    Column("registered", Integer),
)

devices = Table(
    "devices",
    metadata,
    Column("device", String, primary_key=True),
    Column("place", String, ForeignKey("places.place"), nullable=False),
    Column("type", String, nullable=False),
    Column("serial", String, nullable=False),
    Column("model", String, nullable=False),
    Column("protective_counter", Integer),
)

seals = Table(
    "seals",
    metadata,
    Column("device", String, ForeignKey("devices.device"), primary_key=True),
    Column("position", String, primary_key=True),
    Column("number", String, nullable=False),
)

rovers = Table(
    "rovers",
    metadata,
    Column("rover", String, primary_key=True),
    Column("name", String, nullable=False),
    Column("zone", String, nullable=False),
    Column("phone", String, nullable=False),
    Column("latitude", Float),
    Column("longitude", Float),
    Column("skills", JSON, nullable=False),
    Column("carries", JSON, nullable=False),
    Column("starts", Time),
    Column("ends", Time),
)

# append-only: every roster that was ever loaded, once, compressed; the ledger's entries name them by digest
roster_versions = Table(
    "roster_versions",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("digest", String(64), nullable=False),
    Column("content", LargeBinary, nullable=False),
    UniqueConstraint("digest"),
)

# only the SHA-256 of a reporting key is kept
keys = Table(
    "keys",
    metadata,
    Column("key_hash", String(64), primary_key=True),
    Column("holder", String, nullable=False, index=True),
    Column("issued_at", UtcTime, nullable=False),
    Column("revoked_at", UtcTime),
)

people = Table(
    "people",
    metadata,
    Column("name", String, primary_key=True),
    Column("role", String, nullable=False),
    Column("added_at", UtcTime, nullable=False),
    # an Argon2id hash; empty where there is no password, and then none is right
    Column("password", String, nullable=False, server_default=""),
    Column("must_change", Boolean, nullable=False, server_default=false()),
    Column("known_as", String, nullable=False, server_default="", index=True),
    Column("ended_at", UtcTime),
)

# who is signed in to the board; times are the real clock's. Only the SHA-256 of what the cookie holds is kept
sessions = Table(
    "sessions",
    metadata,
    Column("session", String(64), primary_key=True),
    Column("person", String, ForeignKey("people.name"), nullable=False, index=True),
    Column("begun_at", UtcTime, nullable=False),
    Column("seen_at", UtcTime, nullable=False),
    Column("ended_at", UtcTime),
    Column("why", String, nullable=False, server_default=""),
)

# tries to sign in that failed, append-only; outside the ledger, so that no stranger can write into it
failed_sign_ins = Table(
    "failed_sign_ins",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("tried_at", UtcTime, nullable=False),
    # a name that is nobody's is not written down: people type their password there
    Column("person", String, nullable=False),
    Column("address", String, nullable=False),
    Column("why", String, nullable=False),
)

# what the board signs its cookies and forms with
signing_keys = Table(
    "signing_keys",
    metadata,
    Column("name", String, primary_key=True),
    Column("secret", String, nullable=False),
)

# devices' own logs and their documentation as they came, append-only; their digests are entries of the ledger
device_logs = Table(
    "device_logs",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("taken_in_at", UtcTime, nullable=False),
    Column("name", String, nullable=False),
    Column("digest", String(64), nullable=False),
    Column("content", LargeBinary, nullable=False),
    UniqueConstraint("digest"),
)

# one row where this is the archive of an election, opened to be read: then nothing is added to the record
archive_marks = Table(
    "archive_marks",
    metadata,
    Column("election", String, primary_key=True),
    Column("as_of", UtcTime, nullable=False),
    Column("digest", String(64), nullable=False),
)

# the signs of life of the loops beside the endpoint, one row each, for the board to read; times are the real clock's
loop_turns = Table(
    "loop_turns",
    metadata,
    Column("loop", String, primary_key=True),
    Column("turned_at", UtcTime, nullable=False),
)

# what is sent to one person in one go: one notice, or a burst of them; times are the real clock's
messages = Table(
    "messages",
    metadata,
    Column("message", String, primary_key=True),
    Column("number", Integer, nullable=False),
    Column("person", String, nullable=False),
    Column("kind", String, nullable=False),
    Column("title", String, nullable=False),
    Column("body", String, nullable=False),
    Column("made_at", UtcTime, nullable=False),
    Column("tries", Integer, nullable=False),
    Column("not_before", UtcTime, nullable=False),
    # whoever holds the lease is sending it; a lease that has run out was a process that ended
    Column("lease", String, nullable=False),
    Column("leased_until", UtcTime, nullable=False),
    Column("outcome", String, nullable=False),
    Column("ended_at", UtcTime, index=True),
    Column("why", String, nullable=False),
    UniqueConstraint("number"),
)

# every notice owed, written with the fact that it is owed; `number` is that fact's in the ledger
outbox = Table(
    "outbox",
    metadata,
    Column("notice", String, primary_key=True),
    Column("number", Integer, nullable=False),
    Column("case", String, nullable=False, index=True),
    Column("place", String, nullable=False),
    Column("person", String, nullable=False),
    Column("role", String, nullable=False),
    Column("channel", String, nullable=False),
    Column("kind", String, nullable=False),
    Column("danger", Boolean, nullable=False),
    Column("due_at", UtcTime, nullable=False),
    Column("owed_at", UtcTime, nullable=False),
    Column("title", String, nullable=False),
    Column("body", String, nullable=False),
    Column("line", String, nullable=False),
    Column("message", String, ForeignKey("messages.message"), index=True),
    UniqueConstraint("number"),
)
