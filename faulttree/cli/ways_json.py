"""The ways through a tree as one JSON document, written way by way: there can be more than would fit into memory."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from itertools import islice
from typing import Any

from faulttree.cli.output import out
from faulttree.cli.report import JSON_VERSION
from faulttree.cli.ways import Way, total_of, ways_of, words_of
from faulttree.model import Library, Tree, Variant


def list_as_json(library: Library, tree: Tree, variants: Sequence[Variant], role: str, limit: int) -> None:
    """Print at most ``limit`` ways of each variant, and how many there are."""
    # All are counted before anything is printed: what runs in a circle is told without half a document.
    totals = [total_of(library, tree, variant, role) for variant in variants]
    out(f'{{\n  "version": {JSON_VERSION},')
    out(f'  "tree": {_text(tree.id)},\n  "symptom": {_text(tree.symptom)},\n  "role": {_text(role)},')
    out('  "models": [')
    for at, (variant, total) in enumerate(zip(variants, totals, strict=True)):
        names = list(tree.models) if tree.alike else [variant.model]
        out(f'    {{\n      "models": {_text(names)},\n      "total": {total},\n      "ways": [', end="")
        for number, way in enumerate(islice(ways_of(library, variant, role), limit)):
            out(f"{',' if number else ''}\n        {_text(_as_json(library, variant, way))}", end="")
        out(f"\n      ]\n    }}{',' if at + 1 < len(variants) else ''}")
    out("  ]\n}")


def _as_json(library: Library, variant: Variant, way: Way) -> Mapping[str, Any]:
    """A way: its steps by name with their answers, the step it stops at, who goes on there, and all of it in words."""
    return {
        "steps": [{"step": step, "answer": answer} for step, answer in way.steps],
        "last": way.last,
        "hand_over": {"to": way.hand_over, "at": "operational check" if way.proved else "step"}
        if way.hand_over
        else None,
        "words": list(words_of(library, variant, way)),
    }


def _text(value: Any) -> str:
    """In ASCII, like every JSON that is printed."""
    return json.dumps(value, allow_nan=False).replace("\x7f", "\\u007f")
