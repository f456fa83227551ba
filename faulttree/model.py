"""The model: what a library and its trees mean, as frozen values without positions.

A `Tree` holds what its header says and, for each of its models, a `Variant`: the steps and causes of that
model with every one-for-each-model value, every `again`, every check passed over for want of a second
finding, and every default of `otherwise` already resolved. The walk, the proof and the rules work on
variants and need not know how a file spells them. Names of steps, notices, parts and the like stay
names here: a name that leads nowhere is a rule's finding, not a reason to have no model.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Literal

from faulttree.value import EMPTY, Value

if TYPE_CHECKING:
    from decimal import Decimal

Signal = Literal["warning", "caution", "note"]
EndKind = Literal["out of service", "deferred", "hand over", "see document", "no fault found", "see another tree"]
OTHERS = "others"
"""In ``misses``: every cause that the fix does not clear."""


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

    @property
    def needs_acknowledging(self) -> bool:
        """Warnings and cautions are acknowledged, notes are not."""
        return self.signal != "note"


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

    def may(self, role: str, who: str) -> bool:
        """Whether ``role`` may do what is for ``who``; what is for nobody in particular is for all."""
        return not who or role == who or (role in self.roles and who in self.roles[role].covers)


class Route(Value):
    """Where a way goes on when a step could not be done or did not help, and why that may be."""

    to: str
    why: str = ""


class Finding(Value):
    """An answer of a check. ``number`` counts in file order over all models; table-only checks have no ``goto``."""

    label: str
    number: int
    goto: str = ""
    says: str = ""
    opens: tuple[str, ...] = ()
    closes: tuple[str, ...] = ()


class Lift(Value):
    """A manual lift: kilograms and the people that share it."""

    mass: float
    people: int


class Torque(Value):
    """A fastener and its torque in N·m."""

    where: str
    value: float


class Recheck(Value):
    """A look that is due later."""

    after: str
    who: str
    look: str


class SecondInspection(Value):
    """A hold point: what somebody other than the doer looks at."""

    look: str
    who: str = ""


class Work(Value, kw_only=True):
    """What checks and fixes have in common. ``who``, ``people`` and ``notices`` include those of the accesses.

    ``base`` is the step that an `again` repeats, else the step's own name: two steps of one base are the
    same check or fix at two places of the tree.
    """

    id: str
    base: str
    text: str
    who: str
    do: tuple[str, ...] = ()
    minutes: float | None = None
    people: int = 1
    lift: Lift | None = None
    tools: tuple[str, ...] = ()
    consumables: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()
    accesses: tuple[str, ...] = ()
    opens: tuple[str, ...] = ()
    closes: tuple[str, ...] = ()
    occupied: bool = False
    data: Mapping[str, str] = EMPTY
    picture: str = ""


class Check(Work, kw_only=True):
    """A question with findings. ``usual`` is what a cause shows that does not name the check."""

    findings: tuple[Finding, ...]
    unable: Route | None = None
    measure: str = ""
    sure: float = 1.0
    usual: tuple[str, ...] = ()
    table_only: bool = False

    def finding(self, label: str) -> Finding | None:
        """The finding of that label."""
        return next((each for each in self.findings if each.label == label), None)


class Fix(Work, kw_only=True):
    """Work that clears causes, with the operational check that shows whether it did."""

    clears: tuple[str, ...]
    parts: Mapping[str, str] = EMPTY
    """Part to a count in digits or ``if needed``."""
    torques: tuple[Torque, ...] = ()
    limits: tuple[str, ...] = ()
    """Limits that the work is set or judged by."""
    wait: float = 0.0
    """Minutes before the operational check: the longest service time of the consumables."""
    second_inspection: SecondInspection | None = None
    operational_check: str = ""
    did: str = ""
    recheck: Recheck | None = None
    failed: Route | None = None
    cannot: Route | None = None
    misses: tuple[str, ...] = ()
    """Causes that remain although its operational check would pass; `others` is already written out."""
    try_early: bool = False
    then: str = ""

    @property
    def lines(self) -> tuple[str, ...]:
        """What is ticked one by one; a fix without lines is one line itself."""
        return self.do or (self.text,)


class End(Value, kw_only=True):
    """Where a way ends without a passed operational check."""

    id: str
    kind: EndKind
    who: str = ""
    do: tuple[str, ...] = ()
    report: str = ""
    recheck: Recheck | None = None
    under: Mapping[str, str] = EMPTY
    until: str = ""
    when: tuple[str, ...] = ()
    cannot: Route | None = None
    to: str = ""
    data: Mapping[str, str] = EMPTY
    tree: str = ""
    named: Mapping[str, tuple[str, ...]] = EMPTY
    """Causes that this end answers for (accepts, for), with the causes of the other tree where there is one."""
    reportable: bool = False

    @property
    def lines(self) -> tuple[str, ...]:
        """What is ticked one by one: the conditions of a deferral."""
        return self.when


Step = Check | Fix | End


class Cause(Value):
    """What can be wrong. ``shows`` has, by base check, the labels of which any may be met."""

    id: str
    text: str
    why: str = ""
    weight: float | None = None
    shows: Mapping[str, tuple[str, ...]] = EMPTY
    found: str = ""
    watch: tuple[str, ...] = ()
    by_elimination: bool = False
    also_look: tuple[str, ...] = ()
    reportable: bool = False
    note: str = ""


class Variant(Value):
    """A tree for one model. ``passed_over`` has the checks with one finding left and where they lead."""

    model: str
    start: str
    steps: Mapping[str, Step]
    causes: Mapping[str, Cause]
    passed_over: Mapping[str, str] = EMPTY

    def shown(self, check: Check, cause: Cause) -> tuple[str, ...]:
        """The labels of ``check`` that ``cause`` may show: what it names, else the usual, else any."""
        labels = cause.shows.get(check.base) or check.usual
        have = tuple(each.label for each in check.findings)
        return tuple(label for label in have if label in labels) or have


class Action(Value):
    """A line of the first actions or of the fallback."""

    who: str
    do: str
    notices: tuple[str, ...] = ()
    opens: tuple[str, ...] = ()
    closes: tuple[str, ...] = ()


class Released(Value):
    """Who released the tree, when, and the digest of what was released."""

    by: str
    date: str
    digest: str


class Case(Value):
    """An example walk that must arrive where it says."""

    name: str
    role: str
    model: str
    cause: str
    answers: tuple[str, ...]
    arrives: str


class Tree(Value):
    """One symptom: its header and a variant for each model, in the order of the file."""

    id: str
    short: str
    symptom: str
    also: tuple[str, ...]
    equipment: tuple[str, ...]
    urgency: str
    revision: int
    date: str
    status: Literal["draft", "released", "withdrawn"]
    variants: Mapping[str, Variant]
    author: str = ""
    figures: str = ""
    released: Released | None = None
    written_against: Mapping[str, str] = EMPTY
    before: tuple[str, ...] = ()
    first_actions: tuple[Action, ...] = ()
    fallback: tuple[Action, ...] = ()
    report: str = ""
    cases: tuple[Case, ...] = ()
    alike: bool = False
    """Whether nothing in the tree depends on the model, so that one variant stands for all."""

    @property
    def models(self) -> tuple[str, ...]:
        """The models that the tree is for."""
        return tuple(self.variants)

    def distinct_variants(self) -> tuple[Variant, ...]:
        """The variants that differ in more than the model's name."""
        every = tuple(self.variants.values())
        return every[:1] if self.alike else every
