"""The legend below a drawing: only what the drawing has."""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.draw.figure import Figure
from faulttree.draw.text import markup


def legend_label(figure: Figure) -> str:
    """The legend as an HTML-like label of graphviz."""
    samples = [_framed("fix or check", ""), _framed("end, hand-over", "ROUNDED")]
    samples += [_sample(border, role) for role, border in figure.roles]
    cells = "".join(f"<TD>{sample}</TD>" for sample in ("<B>Legend</B>", *samples))
    words = "".join(f'{markup(line)}<BR ALIGN="LEFT"/>' for line in _words(figure))
    return (
        f'<<TABLE BORDER="0" CELLBORDER="0" CELLSPACING="3"><TR>{cells}</TR>'
        f'<TR><TD COLSPAN="{len(samples) + 1}" ALIGN="LEFT" BALIGN="LEFT">{words}</TD></TR></TABLE>>'
    )


def _framed(text: str, style: str) -> str:
    look = f' STYLE="{style}"' if style else ""
    return f'<TABLE BORDER="1" CELLBORDER="0" CELLSPACING="0"{look}><TR><TD>{markup(text)}</TD></TR></TABLE>'


def _sample(border: str, role: str) -> str:
    inner = _framed(role, "DASHED" if border == "dashed" else "")
    if border != "double":
        return inner
    return f'<TABLE BORDER="1" CELLBORDER="0" CELLSPACING="0" CELLPADDING="2"><TR><TD>{inner}</TD></TR></TABLE>'


def _words(figure: Figure) -> Iterator[str]:
    yield "Diamond: the decision of the check of that number; at its lines stands what was found, and the readings."
    yield "Circle: go on at the step of that number. From: the steps from which a way leads here without a line."
    yield "▲ WARNING protects people, ■ CAUTION protects equipment: read in full and acknowledged before the step."
    if figure.figures:
        yield f"Per cent and width of a line: share of the weight of all causes that takes it. {figure.figures}"
    if figure.against:
        yield "+ new.  - gone, dotted.  ~ changed in what is named.  No sign: as before."
