"""The keys of every kind of record in the shared files, with a reader for each: the builder's side of the schemas.

A test compares these tables with the schemas key by key; a new key of the format is entered in both.
"""

from __future__ import annotations

from faulttree.dates import is_date
from faulttree.load.fields import (
    Keys,
    Reader,
    Record,
    ShapeError,
    boolean,
    each,
    many,
    matching,
    number,
    one_of,
    one_or_many,
    read_record,
    record,
    sentences,
    table_of,
    text,
    whole,
)
from faulttree.load.nodes import Node, Scalar, Table
from faulttree.load.patterns import LABEL, MODEL, NAME, STEP
from faulttree.model import SIGNALS

MOST_FINDINGS = 9
MOST_MODELS = 9
"""A read-back code has one digit for the model."""

name, step_id, model_name, label = matching(NAME), matching(STEP), matching(MODEL), matching(LABEL)
names, step_ids, model_names = (many(each_name, unique=True) for each_name in (name, step_id, model_name))
labels = one_or_many(label, unique=True)
texts = sentences
distinct_texts = many(text, unique=True)
date = matching(is_date)
minutes = number(low=0)
positive = number(above=0)
people = whole(1)
data = table_of(NAME, text)
occupied = one_of("allowed")
each_texts, each_minutes, each_data, each_step = each(texts), each(minutes), each(data, of_tables=True), each(step_id)


def entries(keys: Keys, least: int = 0) -> Reader:
    """A mapping from name to record."""
    return table_of(NAME, record(keys), least)


ROLE_KEYS = Keys({"may": texts}, {"is": text, "may_not": texts, "includes": names, "call_out": minutes})
OCCUPANT_KEYS = Keys({"ask": text, "off": text, "first": text})
ACCESS_KEYS = Keys(
    {"is": text},
    {
        "who": name,
        "minutes": minutes,
        "place": name,
        "people": people,
        "notices": names,
        "tools": names,
        "opens": names,
        "closes": names,
    },
)
OPEN_ITEM_KEYS = Keys({"kind": one_of("hazard", "disturbance", "duty"), "is": text})
DOCUMENT_KEYS = Keys({"title": text, "revision": text}, {"sections": table_of(bool, text)})
SIGNAL = one_of(*SIGNALS)
NOTE_KEYS = Keys({"signal": SIGNAL, "text": texts})
HAZARD_KEYS = Keys(
    {"signal": SIGNAL, "hazard": text, "result": text, "avoid": texts},
    {"every_time": boolean, "occupied": one_of("only")},
)
BAND_KEYS = Keys({}, {"up_to": each(number()), "below": each(number()), "says": each(text)})


def notice(node: Node) -> Record:
    """A notice: a note has only a text, the others have none."""
    signal = node.entries.get("signal") if type(node) is Table else None
    is_note = signal is not None and type(signal.value) is Scalar and signal.value.value == "note"
    return read_record(node, NOTE_KEYS if is_note else HAZARD_KEYS)


def band(node: Node) -> Record:
    """A band, which ends in one way at most."""
    values = read_record(node, BAND_KEYS)
    if "up_to" in values and "below" in values:
        raise ShapeError
    return values


LIMIT_KEYS = Keys(
    {
        "is": text,
        "unit": text,
        "range": each(many(number(), least=2, most=2)),
        "bands": table_of(LABEL, band, most=MOST_FINDINGS),
    },
    {"resolution": positive, "set": each(text), "data": each_data},
)
PART_KEYS = Keys(
    {"is": text}, {"models": model_names, "per_year": number(low=0), "lead_days": number(low=0), "note": text}
)
CONSUMABLE_KEYS = Keys({"is": text}, {"service": minutes, "cure": minutes, "note": text})
TOOL_KEYS = Keys({"is": text}, {"who": name, "note": text})
OPERATIONAL_CHECK_KEYS = Keys(
    {"is": text, "do": each_texts, "ask": text, "who": name, "proved": text},
    {
        "minutes": each_minutes,
        "people": people,
        "tools": names,
        "notices": names,
        "occupied": occupied,
        "limits": names,
        "data": each_data,
    },
)
INSPECTION_KEYS = Keys(
    {"every": text, "who": name, "look": text},
    {"tree": name, "limit": one_or_many(name, unique=True), "models": model_names, "data": each_data},
)

VERSION: dict[str, Reader] = {"faulttree": number(low=1, high=1)}
SHARED_KEYS = {
    "library": Keys(
        {
            **VERSION,
            "operator": text,
            "roles": entries(ROLE_KEYS, least=1),
            "models": table_of(MODEL, text, most=MOST_MODELS),
            "urgencies": table_of(NAME, text),
        },
        {
            "revision": text,
            "date": text,
            "occupant": record(OCCUPANT_KEYS),
            "accesses": entries(ACCESS_KEYS),
            "open_items": entries(OPEN_ITEM_KEYS),
            "documents": entries(DOCUMENT_KEYS),
        },
    ),
    "notices": Keys({**VERSION, "notices": table_of(NAME, notice, least=0)}),
    "limits": Keys({**VERSION, "limits": entries(LIMIT_KEYS)}),
    "parts": Keys({**VERSION, "parts": entries(PART_KEYS)}, {"consumables": entries(CONSUMABLE_KEYS)}),
    "tools": Keys({**VERSION, "tools": entries(TOOL_KEYS)}),
    "operational-checks": Keys({**VERSION, "operational_checks": entries(OPERATIONAL_CHECK_KEYS)}),
    "inspection": Keys({**VERSION, "inspection": entries(INSPECTION_KEYS)}),
}
"""The keys of each kind of shared file, by kind."""
