"""What changed between two figures of a tree: one figure with the steps and routes of both, each marked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from faulttree.draw.changed import changed_words
from faulttree.draw.figure import Border, Box, Figure, Line, Mark
from faulttree.draw.make import anchored
from faulttree.value import replace


def against(old: Figure, new: Figure, named: str) -> Figure:
    """Both as one: `+` what is new, `-` what is gone, `~` what changed. ``named`` is what the old one is called."""
    boxes = {
        name: _compared(old.boxes.get(name), box, name == new.start != old.start) for name, box in new.boxes.items()
    }
    number = max((box.number for box in boxes.values()), default=0)
    for name, box in old.boxes.items():
        if name not in boxes:
            number += 1
            boxes[name] = replace(box, number=number, mark="-")
    lines = anchored(tuple(_lines(old, new)), new.start)
    words = _words(boxes.values(), lines, named)
    words += "" if old.opening == new.opening else "; what stands before the first step changed"
    return replace(new, boxes=boxes, lines=lines, roles=_roles(old, new), against=words)


def _compared(old: Box | None, new: Box, starts: bool) -> Box:
    if old is None:
        return replace(new, mark="+")
    words = {**old.facts, **new.facts}
    changed = [
        changed_words(word, old.facts.get(word), new.facts.get(word))
        for word in words
        if old.facts.get(word) != new.facts.get(word)
    ]
    changed += ["start"] if starts else []
    return replace(new, mark="~", changed=tuple(changed)) if changed else new


def _lines(old: Figure, new: Figure) -> Iterator[Line]:
    """The routes of the new figure, then those of the old one that are gone; a route that leads elsewhere is both."""
    before = {(line.source, line.answer): line for line in old.lines}
    kept = set()
    for line in new.lines:
        was = before.get((line.source, line.answer))
        if was is not None and was.target == line.target:
            kept.add((line.source, line.answer))
            changed = (was.note, was.says) != (line.note, line.says)
            yield line._replace(mark="~" if changed else "")
        else:
            yield line._replace(mark="+", drawn=True)
    for key, line in before.items():
        if key not in kept:
            yield line._replace(mark="-", drawn=True)


def _roles(old: Figure, new: Figure) -> tuple[tuple[str, Border], ...]:
    return tuple(dict.fromkeys((*new.roles, *old.roles)))


def _words(boxes: Iterable[Box], lines: Iterable[Line], named: str) -> str:
    marks = {"steps": [box.mark for box in boxes], "routes": [line.mark for line in lines]}
    counts = [f"{what}: {_count(found)}" for what, found in marks.items() if any(found)]
    return f"Against {named}: {'; '.join(counts) if counts else 'nothing that is drawn differs'}"


def _count(marks: Sequence[Mark]) -> str:
    words: dict[Mark, str] = {"+": "new", "-": "gone", "~": "changed"}
    return ", ".join(f"{marks.count(mark)} {word}" for mark, word in words.items() if mark in marks)
