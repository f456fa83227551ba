"""The ways through a tree as one JSON document, written way by way: there can be more than would fit into memory."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from itertools import islice
from typing import Any

from faulttree.cli.output import out
from faulttree.cli.report import JSON_VERSION
from faulttree.cli.ways import total_of
from faulttree.cli.ways_found import Stop, Summary, Way, Wish, ways_of, words_of
from faulttree.model import Library, Tree, Variant


def list_as_json(library: Library, tree: Tree, variants: Sequence[Variant], wish: Wish, limit: int) -> None:
    """Print at most ``limit`` ways of each variant, and how many there are."""
    # All are counted before anything is printed: what runs in a circle is told without half a document.
    summaries = [total_of(library, tree, variant, wish) for variant in variants]
    out(f'{{\n  "version": {JSON_VERSION},')
    out(f'  "tree": {_text(tree.id)},\n  "symptom": {_text(tree.symptom)},\n  "role": {_text(wish.role)},')
    out(f'  "to": {_text(wish.to)},\n  "cause": {_text(wish.cause)},')
    out('  "models": [')
    for at, (variant, summary) in enumerate(zip(variants, summaries, strict=True)):
        names = list(tree.models) if tree.alike else [variant.model]
        out(f'    {{\n      "models": {_text(names)},\n      "total": {summary.total},')
        out(f'      "shortest": {summary.shortest},\n      "longest": {summary.longest},')
        out(f'      "stops": {_text(_stops(summary))},\n      "ways": [', end="")
        for number, way in enumerate(islice(ways_of(library, variant, wish), limit)):
            out(f"{',' if number else ''}\n        {_text(_as_json(library, variant, way))}", end="")
        out(f"\n      ]\n    }}{',' if at + 1 < len(variants) else ''}")
    out("  ]\n}")


def _as_json(library: Library, variant: Variant, way: Way) -> Mapping[str, Any]:
    """A way: its steps by name with their answers, the step it stops at, who goes on there, and all of it in words."""
    return {
        "steps": [{"step": step, "answer": answer} for step, answer in way.steps],
        "last": way.last,
        "hand_over": _hand_over(way),
        "words": list(words_of(library, variant, way)),
    }


def _hand_over(stop: Way | Stop) -> Mapping[str, str] | None:
    if not stop.hand_over:
        return None
    return {"to": stop.hand_over, "at": "operational check" if stop.proved else "step"}


def _stops(summary: Summary) -> list[Mapping[str, Any]]:
    """How many ways stop at each place."""
    return [{"last": stop.last, "hand_over": _hand_over(stop), "ways": count} for stop, count in summary.stops.items()]


def _text(value: Any) -> str:
    """In ASCII, like every JSON that is printed."""
    return json.dumps(value, allow_nan=False).replace("\x7f", "\\u007f")
