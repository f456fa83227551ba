"""The model: what a library and its trees mean, as frozen values without positions.

A `Tree` holds what its header says and, for each of its models, a `Variant`: the steps and causes of that
model with every one-for-each-model value, every `again`, every check passed over for want of a second
finding, and every default of `otherwise` already resolved. The walk, the proof and the rules work on
variants and need not know how a file spells them. Names of steps, notices, parts and the like stay
names here: a name that leads nowhere is a rule's finding, not a reason to have no model.

What trees share stands in `shared_entries`; it is imported from here like the rest.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from faulttree.shared_entries import (
    SIGNALS,
    Access,
    Band,
    Consumable,
    Document,
    InspectionItem,
    Library,
    Limit,
    Notice,
    Occupant,
    OpenItem,
    OperationalCheck,
    Part,
    Role,
    Scale,
    Signal,
    Tool,
)
from faulttree.value import EMPTY, Value

__all__ = (
    "OTHERS",
    "SIGNALS",
    "Access",
    "Action",
    "Band",
    "Case",
    "Cause",
    "Check",
    "Consumable",
    "Document",
    "End",
    "EndKind",
    "Finding",
    "Fix",
    "InspectionItem",
    "Library",
    "Lift",
    "Limit",
    "Notice",
    "Occupant",
    "OpenItem",
    "OperationalCheck",
    "Part",
    "Recheck",
    "Released",
    "Role",
    "Route",
    "Scale",
    "SecondInspection",
    "Signal",
    "Tool",
    "Torque",
    "Tree",
    "Variant",
    "Work",
)

EndKind = Literal["out of service", "deferred", "hand over", "see document", "no fault found", "see another tree"]
OTHERS = "others"
"""In ``misses``: every cause that the fix does not clear."""


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

    @property
    def title(self) -> str:
        """The step in a few words, as an end has them too."""
        return self.text


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

    @property
    def inspector(self) -> str:
        """Who makes the second inspection: the role of the fix where none is stated; empty where there is none."""
        return (self.second_inspection.who or self.who) if self.second_inspection else ""


class End(Value, kw_only=True):
    """Where a way ends without a passed operational check."""

    id: str
    kind: EndKind
    who: str = ""
    do: tuple[str, ...] = ()
    report: str = ""
    recheck: Recheck | None = None
    opens: tuple[str, ...] = ()
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

    @property
    def title(self) -> str:
        """The end in a few words: its kind, and to whom or to which tree it leads."""
        if self.kind == "hand over":
            return f"HAND OVER to {self.to}"
        return f"{self.kind.upper()}: {self.tree}" if self.tree else self.kind.upper()


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
