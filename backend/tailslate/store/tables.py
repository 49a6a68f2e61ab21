"""What the server keeps. The edits table is never altered: a change of shape is a new table or column.

Texts of edits are bytes as received (a digest must hold for ever), times are milliseconds since 1970 UTC.
"""

from __future__ import annotations

from flask_sqlalchemy import SQLAlchemy
from sqlalchemy import BigInteger, ForeignKey, Index, LargeBinary, MetaData, String, Text
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

ID_LENGTH = 200


class Table(DeclarativeBase):
    """What every table has in common: constraints with names, so that a migration can find them."""

    metadata = MetaData(
        naming_convention={
            "ix": "ix_%(table_name)s_%(column_0_N_name)s",
            "uq": "uq_%(table_name)s_%(column_0_N_name)s",
            "fk": "fk_%(table_name)s_%(column_0_N_name)s",
            "pk": "pk_%(table_name)s",
        }
    )
    type_annotation_map = {int: BigInteger, bytes: LargeBinary, str: Text}  # noqa: RUF012  # as SQLAlchemy reads it


db = SQLAlchemy(metadata=Table.metadata)


class Server(Table):
    """One row: this database's own facts."""

    __tablename__ = "server"

    id: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    epoch: Mapped[str]  # new at every restore: places and 'confirmed' of before are void
    secret: Mapped[bytes]  # salts the hashes of join codes, and seals what this server itself writes


class Day(Table):
    """One shooting day. Its row is the lock under which order numbers are taken."""

    __tablename__ = "days"

    id: Mapped[str] = mapped_column(String(ID_LENGTH), primary_key=True)
    title: Mapped[str]
    created_ms: Mapped[int]


class DaySet(Table):
    """One set of a day (floor, health): its last order number and its total mark."""

    __tablename__ = "day_sets"

    day_id: Mapped[str] = mapped_column(ForeignKey("days.id"), primary_key=True)
    set_name: Mapped[str] = mapped_column(String(20), primary_key=True)
    reach: Mapped[int]
    count: Mapped[int]
    digests_xor: Mapped[bytes]


class StoredEdit(Table):
    """One edit, once, in the order in which it was committed."""

    __tablename__ = "edits"

    day_id: Mapped[str] = mapped_column(ForeignKey("days.id"), primary_key=True)
    set_name: Mapped[str] = mapped_column(String(20), primary_key=True)
    order_number: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    edit_id: Mapped[str] = mapped_column(String(ID_LENGTH))
    text: Mapped[bytes]
    kind: Mapped[str] = mapped_column(String(40))
    record: Mapped[str] = mapped_column(String(ID_LENGTH))
    author: Mapped[str] = mapped_column(String(ID_LENGTH))
    incarnation: Mapped[str] = mapped_column(String(40))
    counter: Mapped[int]
    received_ms: Mapped[int]
    carrier: Mapped[str] = mapped_column(String(40))  # the device that brought it, "" for this server

    __table_args__ = (
        Index("uq_edits_day_id_edit_id", "day_id", "edit_id", unique=True),
        Index(None, "day_id", "kind", "record"),
        Index(None, "day_id", "author", "kind"),
        Index(None, "day_id", "set_name", "incarnation", "counter"),
    )


class IncarnationMark(Table):
    """What is held of one incarnation: count, highest counter without a gap, XOR of digests."""

    __tablename__ = "incarnation_marks"

    day_id: Mapped[str] = mapped_column(ForeignKey("days.id"), primary_key=True)
    set_name: Mapped[str] = mapped_column(String(20), primary_key=True)
    incarnation: Mapped[str] = mapped_column(String(40), primary_key=True)
    count: Mapped[int]
    gapless: Mapped[int]
    digests_xor: Mapped[bytes]


class Device(Table):
    """A phone that joined: whose it is, what it may hold, and how far it has read."""

    __tablename__ = "devices"

    id: Mapped[str] = mapped_column(String(40), primary_key=True)
    day_id: Mapped[str] = mapped_column(ForeignKey("days.id"), index=True)
    person: Mapped[str] = mapped_column(String(ID_LENGTH))
    name: Mapped[str]
    token_hash: Mapped[bytes] = mapped_column(LargeBinary(32), unique=True)
    may_hold_health: Mapped[bool]
    joined_ms: Mapped[int]
    heard_ms: Mapped[int]
    revoked_ms: Mapped[int | None]


class ReadPlace(Table):
    """How far a device has read a set, as it says itself."""

    __tablename__ = "read_places"

    device_id: Mapped[str] = mapped_column(ForeignKey("devices.id"), primary_key=True)
    set_name: Mapped[str] = mapped_column(String(20), primary_key=True)
    place: Mapped[int]


class Incarnation(Table):
    """Which device an incarnation belongs to, known once a device brings its own person's edits."""

    __tablename__ = "incarnations"

    day_id: Mapped[str] = mapped_column(ForeignKey("days.id"), primary_key=True)
    incarnation: Mapped[str] = mapped_column(String(40), primary_key=True)
    device_id: Mapped[str] = mapped_column(ForeignKey("devices.id"))


class Invitation(Table):
    """A join code: only its hash, and what it is good for."""

    __tablename__ = "invitations"

    id: Mapped[str] = mapped_column(String(40), primary_key=True)
    day_id: Mapped[str] = mapped_column(ForeignKey("days.id"), index=True)
    code_hash: Mapped[bytes] = mapped_column(LargeBinary(32), unique=True)
    departments: Mapped[str]  # names parted by spaces
    is_head: Mapped[bool]  # whoever joins with it heads a department: may clear safety holds
    uses_left: Mapped[int]
    expires_ms: Mapped[int]
    made_by: Mapped[str]  # person, "" for whoever runs the server
    made_ms: Mapped[int]


class Photograph(Table):
    """One whole picture of a day, named by the SHA-256 of its bytes; edits of kind photograph speak of it."""

    __tablename__ = "photographs"

    day_id: Mapped[str] = mapped_column(ForeignKey("days.id"), primary_key=True)
    digest: Mapped[str] = mapped_column(String(64), primary_key=True)
    media_type: Mapped[str] = mapped_column(String(20))
    size_bytes: Mapped[int]
    octets: Mapped[bytes]
    received_ms: Mapped[int]
    carrier: Mapped[str] = mapped_column(String(40))  # the device that brought it, "" for an import
    is_parked: Mapped[bool]  # brought by a device that was off the day: given to production only


class PhotographPart(Table):
    """A piece of a picture that has not come whole yet; those of two devices never mix."""

    __tablename__ = "photograph_parts"

    day_id: Mapped[str] = mapped_column(ForeignKey("days.id"), primary_key=True)
    digest: Mapped[str] = mapped_column(String(64), primary_key=True)
    device_id: Mapped[str] = mapped_column(ForeignKey("devices.id"), primary_key=True)
    start: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    octets: Mapped[bytes]
    received_ms: Mapped[int]
