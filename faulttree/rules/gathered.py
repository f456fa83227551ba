"""What the files say, gathered: every text of a tree on a model, and of the shared entries, with its place and kind."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from faulttree.model import Action, Check, End, Fix, Library, Recheck, Tree, Variant
from faulttree.rules.prose import DESCRIPTION, ENTRY, INSTRUCTION, Path, Prose, Text

# -- trees


def prose_of_tree(tree: Tree, variant: Variant, written: Callable[[Path], bool]) -> Prose:
    """What a tree says on one model; ``written`` tells whether the file has something at a path.

    What a step has from the step that it repeats stands at that step, and what the bands of a limit say at the limit.
    """
    return Prose(_strings(tree, variant), lambda: _texts(tree, variant, written))


def _strings(tree: Tree, variant: Variant) -> list[str]:
    """The texts without their places; quick, for every file pays for it."""
    strings = [*tree.before, tree.report, *(action.do for action in (*tree.first_actions, *tree.fallback))]
    for cause in variant.causes.values():
        strings += (cause.text, cause.why, cause.found, cause.note, *cause.also_look)
    for id, step in variant.steps.items():
        strings += step.do
        if isinstance(step, End):
            strings += (step.report, *step.when)
            if step.recheck:
                strings.append(step.recheck.look)
        elif step.base == id:
            strings.append(step.text)
            if isinstance(step, Check):
                strings += [finding.says for finding in step.findings if finding.says]
            else:
                strings.append(step.did)
                if step.second_inspection:
                    strings.append(step.second_inspection.look)
                if step.recheck:
                    strings.append(step.recheck.look)
    return strings


def _texts(tree: Tree, variant: Variant, written: Callable[[Path], bool]) -> list[Text]:
    texts = [Text(("before", at), text, DESCRIPTION) for at, text in enumerate(tree.before)]
    texts += _actions("first_actions", tree.first_actions)
    texts += _actions("fallback", tree.fallback)
    texts.append(Text(("report",), tree.report, ENTRY))
    for name, cause in variant.causes.items():
        path = ("causes", name)
        texts.append(Text((*path, "is"), cause.text, DESCRIPTION))
        for key, text, kind in (
            ("why", cause.why, DESCRIPTION),
            ("found", cause.found, ENTRY),
            ("note", cause.note, DESCRIPTION),
        ):
            if text:
                texts.append(Text((*path, key), text, kind))
        texts += [Text((*path, "also_look", at), text, DESCRIPTION) for at, text in enumerate(cause.also_look)]
    for id, step in variant.steps.items():
        path = ("steps", id)
        do = do_path(id, "" if tree.alike else variant.model, written)
        if isinstance(step, Check):
            if step.base == id:
                texts.append(Text((*path, "check"), step.text, DESCRIPTION))
                texts += [Text((*do, at), text, INSTRUCTION) for at, text in enumerate(step.do)]
                texts += _says(path, step, written)
        elif isinstance(step, Fix):
            if step.base == id:
                texts.append(Text((*path, "fix"), step.text, DESCRIPTION))
                texts += [Text((*do, at), text, INSTRUCTION) for at, text in enumerate(step.do)]
                texts += _of_fix(path, step)
        else:
            texts += [Text((*do, at), text, INSTRUCTION) for at, text in enumerate(step.do)]
            texts += [Text((*path, "when", at), text, DESCRIPTION) for at, text in enumerate(step.when)]
            texts.append(Text((*path, "report"), step.report, ENTRY))
            texts += _recheck(path, step.recheck)
    return texts


def _actions(key: str, actions: Sequence[Action]) -> list[Text]:
    return [Text((key, at, "do"), action.do, INSTRUCTION) for at, action in enumerate(actions)]


def do_path(step: str, model: str, written: Callable[[Path], bool]) -> Path:
    """Where the lines of a step stand, which may be one list for each model."""
    path: Path = ("steps", step, "do")
    return (*path, model) if model and written((*path, model)) else path


def _says(path: Path, check: Check, written: Callable[[Path], bool]) -> Iterator[Text]:
    for finding in check.findings:
        if finding.says:
            place = (*path, "findings", finding.label, "says")
            if not check.measure or written(place):
                yield Text(place, finding.says, DESCRIPTION)


def _of_fix(path: Path, fix: Fix) -> Iterator[Text]:
    if fix.did:
        yield Text((*path, "did"), fix.did, ENTRY)
    if fix.second_inspection:
        yield Text((*path, "second_inspection", "look"), fix.second_inspection.look, DESCRIPTION)
    yield from _recheck(path, fix.recheck)


def _recheck(path: Path, recheck: Recheck | None) -> Iterator[Text]:
    if recheck:
        yield Text((*path, "recheck", "look"), recheck.look, DESCRIPTION)


# -- shared entries


def prose_of_library(library: Library) -> Prose:
    """What the shared entries say."""
    texts = [text for text in _of_library(library) if text.text]
    return Prose([text.text for text in texts], lambda: texts)


def _of_library(library: Library) -> Iterator[Text]:
    for role in library.roles.values():
        for key, lines in (("may", role.may), ("may_not", role.may_not)):
            yield from (Text(("roles", role.id, key, at), line, DESCRIPTION) for at, line in enumerate(lines))
    for access in library.accesses.values():
        yield Text(("accesses", access.id, "is"), access.text, DESCRIPTION)
    for item in library.open_items.values():
        yield Text(("open_items", item.id, "is"), item.text, DESCRIPTION)
    for notice in library.notices.values():
        path = ("notices", notice.id)
        yield Text((*path, "hazard"), notice.hazard, DESCRIPTION)
        yield Text((*path, "result"), notice.result, DESCRIPTION)
        yield from (Text((*path, "avoid", at), line, INSTRUCTION) for at, line in enumerate(notice.avoid))
        yield from (Text((*path, "text", at), line, DESCRIPTION) for at, line in enumerate(notice.text))
    for limit in library.limits.values():
        yield Text(("limits", limit.id, "is"), limit.text, DESCRIPTION)
    yield from _of_checks(library)
    for watched in library.inspection.values():
        yield Text(("inspection", watched.id, "look"), watched.look, DESCRIPTION)


def _of_checks(library: Library) -> Iterator[Text]:
    for check in library.operational_checks.values():
        path = ("operational_checks", check.id)
        for model, lines in check.do_by_model.items() or (("", check.do),):
            place = (*path, "do", model) if model else (*path, "do")
            yield from (Text((*place, at), line, INSTRUCTION) for at, line in enumerate(lines))
        yield Text((*path, "ask"), check.ask, DESCRIPTION)
        yield Text((*path, "proved"), check.proved, ENTRY)
