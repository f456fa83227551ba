"""A text is a blank that nobody has filled in.

Meaning:
    A text of the tree, or of an entry that trees share, is `___` and nothing else. `faulttree new` writes such blanks
    where an author has something to say. A blank inside a text, such as a reading in `found` or `report`, is filled in
    on the day and is no problem.

Why:
    Somebody on the ramp would be shown a blank in place of what to look at or what to do.

Wrong:
    contacts:
      check: ___
      who: crew

Right:
    contacts:
      check: Are the contacts clean?
      who: crew
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from faulttree.model import Check, End, Fix, Library, Limit, Notice, Recheck, Role, Scale, Step
from faulttree.rules.context import Context, Hit, Path, Shared
from faulttree.value import Value, stated

BLANK = "___"
_SIGNS = frozenset("_ .?")
_WRITTEN = {"text": "is", "settings": "set", "do_by_model": "do"}
"""Fields of shared entries that the file calls otherwise."""


def is_blank(text: object) -> bool:
    """Whether a text has nothing but a blank."""
    return isinstance(text, str) and BLANK in text and _SIGNS.issuperset(text)


def check(context: Context) -> Iterator[Hit]:
    """One hit for each blank, in the order of the header, the causes and the steps."""
    if not _has_any(context):
        return
    tree = context.tree
    for name in ("symptom", "also", "equipment", "author", "before", "report"):
        yield from _texts((name,), getattr(tree, name))
    for name in ("first_actions", "fallback"):
        for at, action in enumerate(getattr(tree, name)):
            yield from _texts((name, at, "do"), action.do)
    for cause in context.variant.causes.values():
        for key, value in (("is", cause.text), ("why", cause.why), ("found", cause.found), ("note", cause.note)):
            yield from _texts(("causes", cause.id, key), value)
        yield from _texts(("causes", cause.id, "also_look"), cause.also_look)
    for step in context.variant.steps.values():
        yield from _of_step(context, step)
        yield from _of_routes(context, step)


def _has_any(context: Context) -> bool:
    """Whether a blank stands in the prose or in the few texts that are none; paths are made only where one does."""
    tree, ends = context.tree, context.ends
    others = [tree.symptom, *tree.also, *tree.equipment, tree.author, *(end.until for end in ends)]
    others += [step.unable.why for step in context.checks if step.unable]
    others += [route.why for fix in context.fixes for route in (fix.failed, fix.cannot) if route]
    others += [torque.where for fix in context.fixes for torque in fix.torques]
    others += [end.cannot.why for end in ends if end.cannot]
    return any(is_blank(text) for texts in (context.prose.strings, others) for text in texts if BLANK in text)


def _of_step(context: Context, step: Step) -> Iterator[Hit]:
    path: Path = ("steps", step.id)
    if isinstance(step, End):
        for name in ("do", "report", "until", "when"):
            yield from _texts((*path, name), getattr(step, name))
        yield from _recheck(path, step.recheck)
    elif step.base == step.id:
        yield from _texts((*path, "check" if isinstance(step, Check) else "fix"), step.text)
        yield from _texts(context.do_path(step.id), step.do, "do")
        if isinstance(step, Check):
            for finding in step.findings:
                yield from _texts((*path, "findings", finding.label, "says"), finding.says)
        else:
            yield from _of_fix(context, path, step)


def _of_fix(context: Context, path: Path, fix: Fix) -> Iterator[Hit]:
    for at, torque in enumerate(fix.torques):
        yield from _texts((*_for_model(context, (*path, "torque")), at, "where"), torque.where)
    yield from _texts((*path, "did"), fix.did)
    if fix.second_inspection:
        yield from _texts((*path, "second_inspection", "look"), fix.second_inspection.look)
    yield from _recheck(path, fix.recheck)


def _recheck(path: Path, recheck: Recheck | None) -> Iterator[Hit]:
    if recheck:
        yield from _texts((*path, "recheck", "look"), recheck.look)


def _of_routes(context: Context, step: Step) -> Iterator[Hit]:
    """Why a way goes on; what `otherwise` says stands there."""
    for name in ("unable", "failed", "cannot"):
        route = getattr(step, name, None)
        if route and is_blank(route.why):
            own: Path = ("steps", step.id, name)
            path = own if context.written(own) else ("otherwise", name)
            yield from _texts((*_for_model(context, path), "why"), route.why)


def _for_model(context: Context, path: Path) -> Path:
    """The path with the model, where the file has one value for each."""
    model = context.variant.model
    return (*path, model) if not context.tree.alike and context.written((*path, model)) else path


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each blank in the shared entries. Mostly there is none, so paths are made only where there is."""
    library = shared.library
    if _has_blank(library):
        for key, entries in stated(library).items():
            yield from _below((key,), entries, library)


def _has_blank(library: Library) -> bool:
    waiting: list[object] = [library]
    while waiting:
        value = waiting.pop()
        if isinstance(value, str):
            if BLANK in value and is_blank(value):
                return True
        elif isinstance(value, Value):
            waiting += stated(value).values()
        elif isinstance(value, dict):
            waiting += value.values()
        elif isinstance(value, tuple):
            waiting += value
    return False


def _below(path: Path, value: object, library: Library) -> Iterator[Hit]:
    if isinstance(value, Scale):
        for band in value.bands:
            yield from _texts((*path[:-1], band.label, "says"), band.says)
    elif isinstance(value, Value):
        for name, each in stated(value).items():
            yield from _below((*path, _key(value, name)), each, library)
    elif isinstance(value, dict):
        for name, each in value.items():
            yield from _below((*path, name), each, library)
    elif isinstance(value, str | tuple):
        by_model = len(path) > 2 and path[-1] in library.models
        yield from _texts(path, value, str(path[-2 if by_model else -1]))


def _key(value: Value, field: str) -> str:
    """What the file calls a field."""
    if isinstance(value, Notice):
        return field
    if isinstance(value, Role) and field == "title":
        return "is"
    if isinstance(value, Limit) and field == "scales":
        return "bands"
    return _WRITTEN.get(field, field)


def _texts(path: Path, value: str | Iterable[object], key: str = "") -> Iterator[Hit]:
    """A hit for a text, or for each of several, that is blank; ``key`` where the last of the path is not what it is."""
    key = key or str(path[-1])
    if isinstance(value, str):
        if is_blank(value):
            yield Hit(path, f'"{key}" is a blank', "write what belongs there, or delete the key if nothing does")
        return
    for at, each in enumerate(value):
        if is_blank(each):
            yield Hit((*path, at), f'"{key}" has a blank', "write what belongs there, or delete the line")
