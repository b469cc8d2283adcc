"""The tables of rooms, people and answers, in SQL that SQLite and PostgreSQL share."""

from sqlalchemy import (
    Boolean,
    Column,
    Float,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

SCHEMA = 1  # what these tables are; a store of another version is refused

metadata = MetaData()


def _of(table):
    """Return the column that names a row of another table and goes with it."""
    key = ForeignKey(f"{table}.id", ondelete="CASCADE")
    return Column(f"{table}_id", Integer, key, nullable=False, index=True)


version = Table(
    "workshop_version", metadata, Column("version", Integer, primary_key=True)
)
rooms = Table(
    "room",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("code", String(6), nullable=False, unique=True),
    Column("salt", LargeBinary, nullable=False),
    Column("key_hash", LargeBinary, nullable=False),
    Column("title", String(300), nullable=False),
    Column("pack", LargeBinary, nullable=False),  # the .zip, as it was opened
    Column("form", String(8), nullable=False),
    Column("stages", Text, nullable=False),  # JSON: [[stage, minutes], …]
    Column("asked", Text, nullable=False),  # JSON: {stage: {question: kind}}
    Column("stage", String(20), nullable=False),
    Column("is_paused", Boolean, nullable=False),
    Column("shown", Text, nullable=False),  # JSON: what the trainer shows by name
    Column("opened", Float, nullable=False),  # seconds since 1970, as all times
    Column("stage_since", Float, nullable=False),
    Column("ends", Float, nullable=False),
    Column("closed", Float),
)
people = Table(
    "person",
    metadata,
    Column("id", Integer, primary_key=True),
    _of("room"),
    Column("nickname", String(60), nullable=False),
    Column("folded", String(200), nullable=False),  # as it is compared
    Column("team", Integer, nullable=False),
    Column("token_hash", String(64), unique=True),  # none: answers came on paper
    Column("joined", Float, nullable=False),
    UniqueConstraint("room_id", "folded"),
)
answers = Table(
    "answer",
    metadata,
    Column("id", Integer, primary_key=True),
    _of("room"),
    _of("person"),
    Column("stage", String(20), nullable=False),
    Column("question", String(60), nullable=False),
    Column("value", Text, nullable=False),  # JSON
    Column("given", Float, nullable=False),
    UniqueConstraint("person_id", "stage", "question"),
)
receipts = Table(
    "receipt",
    metadata,
    Column("id", Integer, primary_key=True),
    _of("person"),
    Column("client_key", String(64), nullable=False),
    Column("given", Float, nullable=False),
    UniqueConstraint("person_id", "client_key"),
)
seats = Table(
    "seat",
    metadata,
    Column("id", Integer, primary_key=True),
    _of("room"),
    Column("role", String(12), nullable=False),  # trainer or projector
    Column("token_hash", String(64), nullable=False, unique=True),
)
guesses = Table(
    "guess",
    metadata,
    Column("caller", String(64), primary_key=True),  # hashed
    Column("wrong", Integer, nullable=False),
    Column("last", Float, nullable=False),
    Column("until", Float, nullable=False),
)
