"""The prose of a tree and of the shared entries: each text with its place and kind, and the words that stand in it.

The rules on wording, and those that look for words which betray something, read what is gathered here once for a tree
on a model. `words` has every word of it in lower case: a rule whose words are not among them need read no text.
Texts are cut into sentences only where a rule asks for it, and each text once, however many trees and models share it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property, lru_cache
from typing import NamedTuple

from faulttree.model import Action, Check, End, Fix, Library, Recheck, Tree, Variant
from faulttree.rules.words import (
    ALSO_NOUNS,
    FUNCTION_WORDS,
    NO_NOUN_ENDINGS,
    PARTICIPLES,
    PLAIN_ADJECTIVES,
    STATE_VERBS,
    TOLD_AFTER,
    VERBS,
    compiled,
    lower,
)
from faulttree.value import Value

Path = tuple[str | int, ...]

INSTRUCTION = "instruction"
DESCRIPTION = "description"
ENTRY = "entry"
"""A text with blanks that goes into a report or a maintenance record, in the wording of these."""


class Text(NamedTuple):
    """A text as it stands at ``path``, and whether it tells somebody to do something or describes."""

    path: Path
    text: str
    kind: str


class Prose(Value):
    """What a file says. The texts with their places are made only when a rule has a reason to read them."""

    strings: Sequence[str]
    """The texts alone, in no order that means anything; there may be more than in `texts`."""
    make: Callable[[], Sequence[Text]]

    @cached_property
    def texts(self) -> Sequence[Text]:
        """Texts in the order of the file."""
        return self.make()

    @cached_property
    def joined(self) -> str:
        """All texts, one a line: what is not in it, is in none of them."""
        return "\n".join(self.strings)

    @cached_property
    def lowered(self) -> str:
        """The same in lower case."""
        return self.joined.lower()

    @cached_property
    def words(self) -> frozenset[str]:
        """Every word of the texts, in lower case; a word with a hyphen stands as a whole and in its parts."""
        every = set(self.lowered.translate(_MARKS).split())
        joined = [word for word in every if "-" in word]
        return frozenset(every.union(*(word.split("-") for word in joined)) if joined else every)

    @cached_property
    def has_digit(self) -> bool:
        """Whether there is a number in figures anywhere."""
        return has_digit(self.joined)

    @cached_property
    def blanks(self) -> int:
        """The blanks of the text that has most; texts that can have only few are not counted."""
        return max([string.count(" ") for string in self.strings if len(string) > 2 * LONG], default=0)

    @property
    def instructions(self) -> Iterator[Text]:
        """The texts that tell somebody to do something."""
        return (text for text in self.texts if text.kind == INSTRUCTION)

    def with_pieces(self, pieces: Iterable[str]) -> Iterator[Text]:
        """The instructions in which one of ``pieces`` stands; none is read where no text has any."""
        found = [piece for piece in pieces if piece in self.lowered]
        for text in self.instructions if found else ():
            lowered = text.text.lower()
            if any(piece in lowered for piece in found):
                yield text


LONG = 20
"""Blanks from which on a text may have a sentence that is too long."""

_MARKS_OF_SENTENCE = str.maketrans(dict.fromkeys(",:;!?()[]{}\"'“”‘’/=<>–—", " "))
_MARKS = {**_MARKS_OF_SENTENCE, ord("."): " "}
"""Marks as blanks; within a sentence a point belongs to a number or to a short form."""

_END = r"(?<=[.!?])(?<!\bno\.)(?<!\bNo\.)(?<!\bapprox\.)(?<!\be\.g\.)(?<!\bi\.e\.)\s+"


def has_digit(text: str) -> bool:
    """Whether a text has a number in figures."""
    return lower("[0-9]").search(text) is not None


@lru_cache(maxsize=4096)
def sentences(text: str) -> tuple[str, ...]:
    """The sentences of ``text``; the point of a number or of a short form such as "no." ends none."""
    return tuple(compiled(_END).split(text.strip()))


@lru_cache(maxsize=4096)
def words_of(sentence: str) -> tuple[str, ...]:
    """The words of a sentence in lower case, without marks; words with a hyphen and numbers stay whole."""
    return tuple(word.strip("-.") for word in sentence.lower().translate(_MARKS_OF_SENTENCE).split())


def first_word(text: str, beginnings: tuple[str, ...]) -> str:
    """The first word of a text that begins with one of ``beginnings``, in lower case; empty where there is none."""
    return next((word for word in words_of(text) if word.startswith(beginnings)), "")


# -- what all texts are searched for at once

LIKELY = r"(?:and|then|[,;]) (?:then )?(\w+)"
MOST_NOUNS = 3
ENDS_OF_ROW = FUNCTION_WORDS | PLAIN_ADJECTIVES | STATE_VERBS | (PARTICIPLES - ALSO_NOUNS)


def told_more(prose: Prose) -> bool:
    """Whether a second verb of an instruction stands in any text."""
    return told_more_in(prose.lowered)


def told_more_in(lowered: str) -> bool:
    """The same of texts in lower case."""
    return any(found[1] in TOLD_AFTER for found in lower(LIKELY).finditer(lowered))


def rows_of_nouns(prose: Prose) -> bool:
    """Whether too many nouns stand in a row in any text."""
    return any(nouns(found[1].split()) for found in lower(ROW).finditer(prose.lowered))


ROW = r"the ((?:[a-z][a-z-]+ ){3,}[a-z][a-z-]+)"
"""Words without a mark between them, behind "the": there nearly all rows of nouns stand."""


def nouns(words: list[str]) -> list[str]:
    """The nouns at the beginning of a row of words, where they are too many."""
    row: list[str] = []
    for word in words:
        if word in ENDS_OF_ROW or lower(NO_NOUN_ENDINGS).search(word):
            break
        if row and word in VERBS and word not in ALSO_NOUNS:
            break
        row.append(word)
        if word.endswith("s") and not word.endswith("ss") and len(row) > MOST_NOUNS:
            break
    return row if len(row) > MOST_NOUNS else []


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
