"""What trees share, roles, accesses, notices, limits, parts, operational checks and so on, and the `Library` of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Literal

from faulttree.value import EMPTY, Value

if TYPE_CHECKING:
    from decimal import Decimal

Signal = Literal["warning", "caution", "note"]
SIGNALS: tuple[Signal, ...] = ("warning", "caution", "note")
"""The signal words, the gravest first; in this order notices are shown and written."""


class Role(Value):
    """Who may do a step. ``covers`` are the roles whose steps it may do: itself and what it includes, in turn."""

    id: str
    title: str
    may: tuple[str, ...]
    may_not: tuple[str, ...]
    covers: frozenset[str]
    call_out: float = 0.0
    """Minutes until a person of this role is there."""


class Occupant(Value):
    """The question for the occupant, the move that takes it off, the line that stands first while occupied."""

    ask: str
    off: str
    first: str


class Access(Value):
    """A place opened up or a position taken, so that steps can be done. Accesses of one place exclude each other."""

    id: str
    text: str
    who: str = ""
    minutes: float = 0.0
    place: str = ""
    people: int = 1
    notices: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    opens: tuple[str, ...] = ()
    closes: tuple[str, ...] = ()


class OpenItem(Value):
    """Something left in a state that must not be forgotten."""

    id: str
    kind: Literal["hazard", "disturbance", "duty"]
    text: str

    @property
    def must_close(self) -> bool:
        """Whether it may not be open when an operational check has passed."""
        return self.kind != "duty"


class Document(Value):
    """Approved data that the library refers to."""

    id: str
    title: str
    revision: str
    sections: Mapping[str, str] = EMPTY


class Notice(Value):
    """A warning (people), a caution (equipment) or a note (help). A note has only ``text``."""

    id: str
    signal: Signal
    hazard: str = ""
    result: str = ""
    avoid: tuple[str, ...] = ()
    text: tuple[str, ...] = ()
    every_time: bool = False
    occupied_only: bool = False
    """Whether it is of use only while the occupant is on the equipment, or may be."""

    @property
    def needs_acknowledging(self) -> bool:
        """Warnings and cautions are acknowledged, notes are not."""
        return self.signal != "note"

    @property
    def rank(self) -> int:
        """Its place in the order of the signal words."""
        return SIGNALS.index(self.signal)


class Band(Value):
    """One band of a scale. It ends at ``limit``, which belongs to it where ``inclusive``; the last has no end."""

    label: str
    limit: float | None
    inclusive: bool = False
    says: str = ""


class Scale(Value):
    """A limit's numbers for one model: the readings that can be, and the bands that part them."""

    low: float
    high: float
    bands: tuple[Band, ...]

    def band_of(self, reading: Decimal) -> str:
        """The label of the band that holds ``reading``."""
        for band in self.bands:
            if band.limit is None:
                return band.label
            limit = as_written(band.limit, reading)
            if reading < limit or (band.inclusive and reading == limit):
                return band.label
        return self.bands[-1].label

    def holds(self, reading: Decimal) -> bool:
        """Whether ``reading`` lies in the range of readings that can be."""
        return as_written(self.low, reading) <= reading <= as_written(self.high, reading)

    def edges_near(self, reading: Decimal, resolution: float) -> tuple[Band, ...]:
        """The bands that end within ``resolution`` of ``reading``; none where the gauge's resolution is not known."""
        near = as_written(resolution, reading)
        ends = ((band, as_written(band.limit, reading)) for band in self.bands if band.limit is not None)
        return tuple(band for band, end in ends if resolution and abs(reading - end) <= near)


def as_written(number: float, like: Decimal) -> Decimal:
    """A limit as it is written: 1.1 as a binary number is a little more, and would take in a reading of 1.1."""
    return type(like)(repr(number))


class Limit(Value):
    """A number that decides, with its unit, the gauge's resolution and one scale for each model that has it."""

    id: str
    text: str
    unit: str
    scales: Mapping[str, Scale]
    resolution: float = 0.0
    settings: Mapping[str, str] = EMPTY
    """Model to what the value is set to or is when new."""
    data: Mapping[str, Mapping[str, str]] = EMPTY
    """Model to document and section."""


class Part(Value):
    """A part that can be ordered."""

    id: str
    text: str
    models: tuple[str, ...] = ()
    per_year: float | None = None
    lead_days: float | None = None
    note: str = ""


class Consumable(Value):
    """Something used up; ``service`` is the wait in minutes before what it was used on may be operated."""

    id: str
    text: str
    service: float = 0.0
    cure: float = 0.0
    note: str = ""


class Tool(Value):
    """A tool; without ``who`` it is not for the first role."""

    id: str
    text: str
    who: str = ""
    note: str = ""


class OperationalCheck(Value):
    """What is operated after a fix to see whether it cleared the fault. ``data`` and ``minutes`` are by model.

    ``do`` has the lines where they are alike for all models, ``do_by_model`` those that are not.
    """

    id: str
    text: str
    do: tuple[str, ...]
    ask: str
    who: str
    proved: str
    minutes: Mapping[str, float] = EMPTY
    data: Mapping[str, Mapping[str, str]] = EMPTY
    people: int = 1
    tools: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()
    occupied: bool = False
    limits: tuple[str, ...] = ()
    """Limits that it is judged by."""
    do_by_model: Mapping[str, tuple[str, ...]] = EMPTY

    def lines(self, model: str) -> tuple[str, ...]:
        """What to do on ``model``."""
        return self.do_by_model.get(model, self.do)


class InspectionItem(Value):
    """A recurring look, by interval or occasion."""

    id: str
    every: str
    who: str
    look: str
    tree: str = ""
    limit: str = ""
    models: tuple[str, ...] = ()
    data: Mapping[str, Mapping[str, str]] = EMPTY
    also_limits: tuple[str, ...] = ()
    """Further limits that decide, beside the first: a release that was made before there were any still fits."""

    @property
    def limits(self) -> tuple[str, ...]:
        """Every limit that decides, in the order of the file."""
        return (self.limit, *self.also_limits) if self.limit else ()


class Library(Value):
    """Everything that trees share. Mappings keep the order of the file; the first role is the first."""

    operator: str
    roles: Mapping[str, Role]
    models: Mapping[str, str]
    urgencies: Mapping[str, str]
    occupant: Occupant | None = None
    revision: str = ""
    date: str = ""
    accesses: Mapping[str, Access] = EMPTY
    open_items: Mapping[str, OpenItem] = EMPTY
    documents: Mapping[str, Document] = EMPTY
    notices: Mapping[str, Notice] = EMPTY
    limits: Mapping[str, Limit] = EMPTY
    parts: Mapping[str, Part] = EMPTY
    consumables: Mapping[str, Consumable] = EMPTY
    tools: Mapping[str, Tool] = EMPTY
    operational_checks: Mapping[str, OperationalCheck] = EMPTY
    inspection: Mapping[str, InspectionItem] = EMPTY

    @property
    def first_role(self) -> str:
        """The role a new walk starts as."""
        return next(iter(self.roles))

    def notices_named(self, names: Iterable[str]) -> tuple[Notice, ...]:
        """The notices of those names, warnings first, then cautions, then notes."""
        found = [self.notices[name] for name in names if name in self.notices]
        return tuple(sorted(found, key=lambda notice: notice.rank))

    def may(self, role: str, who: str) -> bool:
        """Whether ``role`` may do what is for ``who``; what is for nobody in particular is for all."""
        return not who or role == who or (role in self.roles and who in self.roles[role].covers)
