"""The keys of every kind of record in a tree, with a reader for each: the builder's side of the tree's schema."""

from __future__ import annotations

from typing import Any

from faulttree.load.fields import (
    Keys,
    Reader,
    Record,
    ShapeError,
    any_of,
    boolean,
    each,
    many,
    matching,
    number,
    one_of,
    read_record,
    record,
    table_of,
    text,
    whole,
)
from faulttree.load.keys import (
    MOST_FINDINGS,
    MOST_MODELS,
    VERSION,
    data,
    date,
    distinct_texts,
    each_data,
    each_minutes,
    each_step,
    each_texts,
    label,
    labels,
    model_name,
    model_names,
    name,
    names,
    occupied,
    people,
    positive,
    step_id,
    step_ids,
    texts,
)
from faulttree.load.nodes import Items, Node, Scalar, Table
from faulttree.load.patterns import LABEL, NAME, SHORT, STEP

ROUTE_KEYS = Keys({"to": step_id}, {"why": text})
LIFT_KEYS = Keys({"mass": positive, "people": people})
RECHECK_KEYS = Keys({"after": text, "who": name, "look": text})
TORQUE_KEYS = Keys({"where": text, "value": positive})
SECOND_INSPECTION_KEYS = Keys({"look": text}, {"who": name})
THEN_KEYS = Keys({"tree": name})
FIRST_ACTION_KEYS = Keys({"who": name, "do": text}, {"notices": names})
ACTION_KEYS = FIRST_ACTION_KEYS | Keys({}, {"opens": names, "closes": names})
RELEASED_KEYS = Keys({"by": text, "date": date, "digest": text})


def route(node: Node) -> Record:
    """A way on: the step's id alone, or with the reason."""
    return {"to": step_id(node)} if type(node) is Scalar else read_record(node, ROUTE_KEYS)


each_route = each(route, of_tables=True)
OTHERWISE_KEYS = Keys({}, {"unable": route, "failed": route, "cannot": route})
FINDING_KEYS = Keys({"goto": each_step}, {"says": each(text), "opens": names, "closes": names, "models": model_names})
AGAIN_FINDING_KEYS = Keys({"goto": each_step})


def finding_of(keys: Keys) -> Reader:
    """A finding: the step it leads to, for all models or for each, or a record of these keys."""

    def read(node: Node) -> Any:
        if type(node) is Table and "goto" in node.entries:
            return read_record(node, keys)
        return {"goto": each_step(node)}

    return read


findings_table = table_of(LABEL, finding_of(FINDING_KEYS), most=MOST_FINDINGS)
findings_list = many(label, most=MOST_FINDINGS, unique=True)


def findings(node: Node) -> Any:
    """Findings with their ways, or a plain list of labels."""
    return findings_list(node) if type(node) is Items else findings_table(node)


COMMON_KEYS: dict[str, Reader] = {
    "minutes": each_minutes,
    "tools": names,
    "consumables": names,
    "notices": names,
    "access": names,
    "opens": names,
    "closes": names,
    "occupied": occupied,
    "people": people,
    "lift": record(LIFT_KEYS),
    "data": each_data,
    "picture": text,
    "models": model_names,
}
CHECK_KEYS = Keys(
    {"check": text, "who": name, "findings": findings},
    {
        **COMMON_KEYS,
        "do": each_texts,
        "measure": name,
        "sure": number(above=0, high=1),
        "usual": labels,
        "unable": each_route,
    },
)
FIX_KEYS = Keys(
    {"fix": text, "clears": each(step_ids), "who": name, "do": each_texts},
    {
        **COMMON_KEYS,
        "parts": each(table_of(NAME, any_of(whole(1), one_of("if needed"))), of_tables=True),
        "torque": each(many(record(TORQUE_KEYS))),
        "limits": names,
        "second_inspection": record(SECOND_INSPECTION_KEYS),
        "operational_check": name,
        "did": text,
        "recheck": record(RECHECK_KEYS),
        "failed": each_route,
        "cannot": each_route,
        "misses": any_of(step_ids, one_of("others")),
        "try_early": boolean,
        "then": record(THEN_KEYS),
    },
)
END_COMMON_KEYS: dict[str, Reader] = {
    "who": name,
    "do": each_texts,
    "report": text,
    "recheck": record(RECHECK_KEYS),
    "opens": names,
    "reportable": boolean,
    "models": model_names,
}
KIND = one_of("out of service", "deferred", "hand over", "see document", "no fault found", "see another tree")
PLAIN_END_KEYS = Keys({"end": KIND}, END_COMMON_KEYS)
DEFERRED_KEYS = Keys(
    {"end": KIND, "under": data, "until": text, "accepts": step_ids},
    {**END_COMMON_KEYS, "when": texts, "cannot": each_route},
)
HAND_OVER_KEYS = Keys({"end": KIND, "to": name}, {**END_COMMON_KEYS, "for": step_ids})
SEE_DOCUMENT_KEYS = Keys({"end": KIND, "data": each_data}, {**END_COMMON_KEYS, "for": step_ids})
SEE_TREE_KEYS = Keys({"end": KIND, "tree": name, "for": table_of(STEP, step_ids)}, END_COMMON_KEYS)
END_KEYS = {
    "deferred": DEFERRED_KEYS,
    "hand over": HAND_OVER_KEYS,
    "see document": SEE_DOCUMENT_KEYS,
    "see another tree": SEE_TREE_KEYS,
}
"""The keys of the ends that have some of their own; the others have `PLAIN_END_KEYS`."""
AGAIN_KEYS = Keys(
    {"again": step_id},
    {
        "findings": table_of(LABEL, finding_of(AGAIN_FINDING_KEYS), most=MOST_FINDINGS),
        "unable": each_route,
        "failed": each_route,
        "cannot": each_route,
        "models": model_names,
    },
)


def step(node: Node) -> Record:
    """A step: which kind it is is told by its first key in the order again, check, fix, end."""
    if type(node) is not Table:
        raise ShapeError
    kinds = node.entries
    if "again" in kinds:
        return read_record(node, AGAIN_KEYS)
    if "check" in kinds:
        values = read_record(node, CHECK_KEYS)
        if "unable" in values and type(values["findings"]) is tuple:
            raise ShapeError("unable", "~")
        return values
    if "fix" in kinds:
        return read_record(node, FIX_KEYS)
    kind = kinds["end"].value if "end" in kinds else None
    return read_record(node, END_KEYS.get(kind.value, PLAIN_END_KEYS) if type(kind) is Scalar else PLAIN_END_KEYS)


CAUSE_KEYS = Keys(
    {"is": text},
    {
        "why": text,
        "weight": number(low=0),
        "shows": table_of(STEP, each(labels)),
        "found": text,
        "watch": names,
        "by_elimination": boolean,
        "also_look": texts,
        "reportable": boolean,
        "note": text,
        "models": model_names,
    },
)
CASE_KEYS = Keys(
    {"name": text, "arrives": step_id}, {"role": name, "model": model_name, "cause": step_id, "answers": many(text)}
)
HEADER_KEYS = Keys(
    {
        **VERSION,
        "id": name,
        "short": matching(SHORT),
        "symptom": text,
        "equipment": distinct_texts,
        "urgency": name,
        "revision": whole(1),
        "date": date,
        "status": one_of("draft", "released", "withdrawn"),
    },
    {
        "also": distinct_texts,
        "models": many(model_name, most=MOST_MODELS, unique=True),
        "author": text,
        "figures": one_of("guessed", "counted"),
        "released": record(RELEASED_KEYS),
        "written_against": data,
        "before": texts,
        "first_actions": many(record(FIRST_ACTION_KEYS)),
        "fallback": many(record(ACTION_KEYS)),
        "report": text,
        "otherwise": record(OTHERWISE_KEYS),
    },
)
BODY_KEYS = Keys(
    {
        "causes": table_of(STEP, record(CAUSE_KEYS)),
        "start": each_step,
        "steps": table_of(STEP, step),
    },
    {"cases": many(record(CASE_KEYS))},
)
TREE_KEYS = HEADER_KEYS | BODY_KEYS
