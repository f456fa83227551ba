"""A part of a figure as a graph for graphviz: ISO 5807 signs, black ink, no fill.

Fix and check are a process (a rectangle), the decision after a check a diamond, start, end and hand-over a terminator
(rounded), a jump a connector (a circle with the number of the step that it leads to, which stands on both sides).
Names of nodes are our own, never words of the tree; what a node stands for is in its ``id`` and ``class``.
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.draw.figure import Box, Line, Row
from faulttree.draw.labels import BREAK, WIDTH, columns_label, lines_label, percent, ranges, table_label
from faulttree.draw.paper import TYPE
from faulttree.draw.parts import Part
from faulttree.draw.plan import Plan
from faulttree.draw.text import marked, quoted, wrapped

LABEL_WIDTH = 18
TITLE_WIDTH = 110
FONT = "Helvetica"
MARK_WORDS = {"+": "+ NEW", "-": "- GONE", "~": "~ CHANGED"}


def dot_text(plan: Plan) -> str:
    """All parts as graphs, one after the other."""
    return "\n".join("\n".join(_graph(plan, part)) + "\n" for part in plan.parts)


def part_text(plan: Plan, part: Part) -> str:
    """One part as a graph."""
    return "\n".join(_graph(plan, part)) + "\n"


def _graph(plan: Plan, part: Part) -> Iterator[str]:
    figure = plan.figure
    yield f"digraph {quoted(f'{figure.tree} {part.number}')} {{"
    yield f"  graph [fontname={FONT}, fontsize={TYPE:g}, labelloc=t, nodesep=0.22, ranksep=0.22, margin=0,"
    yield f"    label={_title(plan, part)}];"
    yield f'  node [fontname={FONT}, fontsize={TYPE:g}, shape=box, margin="0.08,0.04", width=0.3, height=0.2];'
    yield f"  edge [fontname={FONT}, fontsize={TYPE:g}, arrowsize=0.6];"
    yield "  subgraph cluster_page {"
    yield f"    peripheries=0; labelloc=b; label={plan.legend};"
    for text in _Drawing(plan, part).all():
        yield f"    {text}"
    yield "  }"
    yield "}"


def _title(plan: Plan, part: Part) -> str:
    figure = plan.figure
    rows = [line for text in figure.about for line in wrapped(text, TITLE_WIDTH)]
    if len(plan.parts) > 1:
        numbers = [figure.boxes[name].number for name in part.names]
        rows.append(f"Part {part.number} of {len(plan.parts)}: steps {ranges(numbers)}")
    if figure.against:
        rows += wrapped(figure.against, TITLE_WIDTH)
    head = BREAK.join(f"<B>{marked(line)}</B>" for line in wrapped(figure.symptom, TITLE_WIDTH - 20))
    return f'<<TABLE BORDER="0"><TR><TD ALIGN="LEFT" BALIGN="LEFT">{head}{BREAK}{lines_label(rows)}</TD></TR></TABLE>>'


class _Drawing:
    """The nodes and edges of one part."""

    def __init__(self, plan: Plan, part: Part) -> None:
        self.plan = plan
        self.figure = plan.figure
        self.part = part
        self.here = frozenset(part.names)
        self.direct = plan.direct
        self.connectors = 0

    def all(self) -> Iterator[str]:
        """The statements."""
        if self.figure.start in self.here:
            yield from self._start()
        for name in self.part.names:
            yield from self._step(self.figure.boxes[name])
        for line in (line for name in self.part.names for line in self.plan.leaving[name]):
            if line.drawn:
                yield from self._line(line)
        yield from self._entries()

    # -- nodes

    def _start(self) -> Iterator[str]:
        yield 'start [id="start", class="start", style=rounded, label="START"];'
        last = "start"
        if self.figure.opening:
            label = columns_label(self.figure.opening)
            yield f'opening [id="opening", class="opening", label={label}];'
            yield "start -> opening;"
            last = "opening"
        yield f"{last} -> n{self.figure.boxes[self.figure.start].number};"

    def _step(self, box: Box) -> Iterator[str]:
        identity = f"id={quoted(f'step-{box.name}')}, class={quoted(f'step {box.shape}')}"
        rows = (*self._head(box), *box.rows, *self._leads(box), *self._sources(box))
        yield f"n{box.number} [{identity}, {_look(box)}label={table_label(rows, WIDTH)}];"
        if box.shape == "check":
            wide = 0.32 + 0.08 * len(str(box.number))
            yield (
                f'd{box.number} [class="decision", shape=diamond, fixedsize=true, width={wide:.2f}, height=0.34,'
                f' label="{box.number}"];'
            )
            yield f"n{box.number} -> d{box.number} [arrowhead=none, weight=20];"

    def _head(self, box: Box) -> Iterator[Row]:
        if box.mark:
            changed = f": {'; '.join(box.changed)}" if box.changed else ""
            yield Row("head", f"{MARK_WORDS[box.mark]}{changed}")
        if box.rows_before:
            yield from box.rows_before
            yield Row("rule")
        yield Row("head", f"{box.number}  {box.head}")
        yield Row("text", " · ".join(filter(None, (box.name, box.needs))))

    def _leads(self, box: Box) -> Iterator[Row]:
        """The routes that are words, those to one step together."""
        found: dict[str, list[Line]] = {}
        for line in self.plan.leaving[box.name]:
            if not line.drawn:
                found.setdefault(line.target, []).append(line)
        if found:
            yield Row("rule")
        for target, lines in found.items():
            words = " or ".join(f"{line.mark} {_reason(line)}".strip() for line in lines)
            yield Row("text", f"{words}: {self._number(target)}")

    def _number(self, name: str) -> str:
        """The number of a step, with its part where that is another."""
        number, part = self.figure.boxes[name].number, self.plan.home[name]
        return f"go to {number}" if part == self.part.number else f"go to {number} (part {part})"

    def _sources(self, box: Box) -> Iterator[Row]:
        """From which steps a way comes here without a line."""
        every = self.plan.coming[box.name]
        into = [line for line in every if line not in self.direct]
        if into:
            also = "from" if len(into) == len(every) else "also from"
            yield Row("rule")
            yield Row("text", f"{also} {ranges({self.figure.boxes[line.source].number for line in into})}")

    # -- edges

    def _line(self, line: Line) -> Iterator[str]:
        source, target = self.figure.boxes[line.source], self.figure.boxes[line.target]
        tail = f"d{source.number}" if source.shape == "check" else f"n{source.number}"
        if line in self.direct:
            yield f"{tail} -> n{target.number} [{_edge(line)}];"
            return
        part = self.plan.home[line.target]
        name = f"c{source.number}_{self.connectors}"
        self.connectors += 1
        yield f'{name} [class="connector", {_round(target.number)}];'
        yield f"{tail} -> {name} [{_edge(line, f'part {part}' if part != self.part.number else '')}];"

    def _entries(self) -> Iterator[str]:
        """A connector before each step of the part that no line leads to."""
        led_to = {line.target for line in self.direct} | {self.figure.start}
        for name in self.part.names:
            if name not in led_to:
                number = self.figure.boxes[name].number
                yield f'e{number} [class="connector", {_round(number)}];'
                yield f"e{number} -> n{number};"


def _round(number: int) -> str:
    return f'shape=circle, fixedsize=true, width={0.24 + 0.04 * len(str(number)):.2f}, label="{number}"'


def _reason(line: Line) -> str:
    return f"{line.answer} ({line.note})" if line.note else line.answer


def _look(box: Box) -> str:
    styles = ["rounded"] if box.shape in ("end", "hand over") else []
    if box.mark == "-":
        styles.append("dotted")
    elif box.border == "dashed":
        styles.append("dashed")
    look = f'style="{",".join(styles)}", ' if styles else ""
    look += "peripheries=2, " if box.border == "double" else ""
    return look + ("penwidth=2.4, " if box.mark == "+" else "")


def _edge(line: Line, elsewhere: str = "") -> str:
    texts = (f"{line.mark} {line.label}".strip(), line.note)
    lines = [piece for text in texts if text for piece in wrapped(text, LABEL_WIDTH)]
    share = line.share or 0.0
    if line.share is not None:
        lines.append(percent(share))
    lines += [elsewhere] if elsewhere else []
    text = "<BR/>".join(map(marked, lines))
    text = f'<TABLE BORDER="0" CELLPADDING="1"><TR><TD>{text}</TD></TR></TABLE>'
    style = ", style=dotted" if line.mark == "-" else ""
    return f'class="{line.kind}", penwidth={0.6 + 3.4 * share:.2f}{style}, label=<{text}>'
