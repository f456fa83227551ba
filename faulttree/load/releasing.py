"""The text of a tree's file with its release written in: only the status and the release change, all else stays.

Comments, layout, order and line ends are the author's. What stands there already is replaced value by value; a release
that is not there yet goes below the status.
"""

from __future__ import annotations

import json
import re

from faulttree.load.nodes import Node, Scalar, Table
from faulttree.model import Released
from faulttree.problems import Span

PLAIN = re.compile(r"[^\W\d_][\w.'-]*(?: [\w.'-]+)*")
"""Names that need no quotes, in any form of YAML."""


def with_release(text: str, root: Node, released: Released) -> str | None:
    """``text`` with the status `released` and this release; None where its layout leaves no place for one."""
    if not isinstance(root, Table) or not isinstance(status := _at(root, "status"), Scalar):
        return None
    lines = text.split("\n")
    values = {"by": _written(released.by), "date": released.date, "digest": released.digest}
    edits = [(status.span, "released")]
    there = _at(root, "released")
    if isinstance(there, Table):
        for name, value in values.items():
            old = _at(there, name)
            if not isinstance(old, Scalar):
                return None
            edits.append((old.span, value))
    elif there is not None or root.flow or not status.plain:
        return None
    for span, value in sorted(edits, reverse=True):
        _put(lines, span, value)
    if there is None:
        end = "\r" if lines[0].endswith("\r") else ""
        block = ["released:" + end, *(f"  {name}: {value}{end}" for name, value in values.items())]
        at = status.span.line
        if at == len(lines):
            lines[-1] += end
        lines[at:at] = block
    return "\n".join(lines)


def _at(table: Table, key: str) -> Node | None:
    entry = table.entries.get(key)
    return entry.value if entry else None


def _written(name: str) -> str:
    """A name as YAML reads it back, in quotes where it needs them."""
    return name if PLAIN.fullmatch(name) else json.dumps(name, ensure_ascii=False)


def _put(lines: list[str], span: Span, value: str) -> None:
    """Replace what stands at ``span``, which may reach over lines."""
    first, last = span.line - 1, span.end_line - 1
    rest = lines[last][span.end_column - 1 :]
    lines[first : last + 1] = [lines[first][: span.column - 1] + value + rest]
