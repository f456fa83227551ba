"""Blocks of text: what line mode prints and the screen draws, and the small words that both need."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal, NamedTuple

from faulttree.digest import standing
from faulttree.keys import OFF, ON, UNANSWERED, Kind
from faulttree.model import Action, Library, Notice, OpenItem, Work
from faulttree.value import replace
from faulttree.walk import Walk

BlockKind = Literal[
    "title",
    "status",
    "first",
    "open",
    "warning",
    "caution",
    "note",
    "known",
    "gate",
    "question",
    "access",
    "how",
    "measure",
    "tick",
    "needs",
    "aids",
    "before",
    "hurry",
    "possible",
    "again",
    "another",
    "watch",
    "order",
    "tag",
    "due",
    "draft",
    "blanks",
    "choice",
    "text",
    "code",
]


NOT_ANSWERED = "Not answered"
TAKEN_AS_ON = f"{NOT_ANSWERED}, so taken as yes."

HURRY = "It cannot wait? Type: fallback"
"""How line mode leads to the fallback; where there are keys, its key stands there instead."""


class Block(NamedTuple):
    """A kind, by which a screen chooses its place and look, and the lines of text."""

    kind: BlockKind
    lines: tuple[str, ...]


def sentence(text: str) -> str:
    """The text with a full stop, where it does not end as a sentence already."""
    text = text.strip()
    return text if not text or text[-1] in ".?!:" else f"{text}."


def sentences(texts: Iterable[str]) -> tuple[str, ...]:
    """Each text as a sentence."""
    return tuple(sentence(text) for text in texts)


def one_or_more(count: int | str, one: str, more: str = "") -> str:
    """``1 line``, ``2 lines``."""
    return f"{count} {one if str(count) == '1' else more or one + 's'}"


def notice_block(notice: Notice) -> Block:
    """A notice in full: signal word and hazard, result, avoidance; a note is its text."""
    word = notice.signal.upper()
    if notice.signal == "note":
        first, *rest = sentences(notice.text)
        return Block("note", (f"{word}: {first}", *rest))
    return Block(
        notice.signal,
        (f"{word}: {sentence(notice.hazard)}", f"Result: {sentence(notice.result)}", *sentences(notice.avoid)),
    )


def notice_line(notice: Notice) -> Block:
    """A notice that was acknowledged, in one line."""
    return Block("known", (f"{notice.signal.upper()}, read before: {sentence(notice.hazard)}",))


def action_blocks(walk: Walk, title: str, actions: Iterable[Action], short: bool = False) -> Iterator[Block]:
    """Lines that are done at once, numbered, each with its role, and before it the notices that belong to it.

    Where somebody is or may be on the equipment the notices are cut to the hazard and the first thing that avoids
    it: these lines are read in seconds or not at all. ``short`` does so in any case.
    """
    hurry = short or occupant_may_be_on(walk)
    for at, action in enumerate(actions, 1):
        if at == 1:
            yield Block("title", (f"{title}:",))
        for notice in walk.site.notices(action.notices):
            yield _short(notice) if hurry else Block(notice.signal, (" ".join(notice_block(notice).lines),))
        who = "" if action.who == walk.library.first_role else f" ({action.who})"
        yield Block("how", (f"{at}. {sentence(action.do)}{who}",))


def first_action_blocks(walk: Walk, title: str, short: bool = False, where: str = "") -> Iterator[Block]:
    """The first actions of the tree; what is open stands at OPEN, ``where`` says at which place of the page.

    Once a line of the fallback worked, things stand otherwise than the first actions take for granted: what is open
    then says what is to be done.
    """
    worked = [line.move.line for line in walk.log if line.move.kind == Kind.FALLBACK and line.move.line]
    if not worked:
        yield from action_blocks(walk, title, walk.tree.first_actions, short)
        return
    first = f"Do first what stands at OPEN{where}" if open_lines(walk) else "Nothing is recorded as open"
    stays = ("Somebody stays with whoever is on it.",) if occupant_may_be_on(walk) else ()
    yield Block("title", (f"{title}:",))
    yield Block("how", (*stays, f"Line {worked[-1]} of the fallback worked, so the first actions are past. {first}."))


def _short(notice: Notice) -> Block:
    texts = notice.text[:1] if notice.signal == "note" else (notice.hazard, *notice.avoid[:1])
    return Block(notice.signal, (f"{notice.signal.upper()}: {' '.join(sentences(texts))}",))


def occupant_may_be_on(walk: Walk) -> bool:
    """Whether somebody is on the equipment, or nobody has said that there is not."""
    return walk.library.occupant is not None and walk.key.occupant != OFF


def with_occupant(walk: Walk, occupant: str) -> Walk:
    """The walk as its pages have to show it while it is taken up: with the occupant of now, empty for not answered."""
    state = (occupant or UNANSWERED) if walk.library.occupant else OFF
    return replace(walk, key=walk.key._replace(occupant=state))


def occupant_words(library: Library, occupant: str) -> str:
    """Whether there is an occupant, in the library's own words; empty where it has no such question."""
    if library.occupant is None:
        return ""
    if occupant == OFF:
        return sentence(library.occupant.off)
    return f"{library.occupant.ask} {'Yes.' if occupant == ON else TAKEN_AS_ON}"


def document_words(library: Library, data: Mapping[str, str]) -> tuple[str, ...]:
    """Each document with its revision and section."""
    words = []
    for name, section in data.items():
        document = library.documents.get(name)
        revision = f" revision {document.revision}" if document else ""
        words.append(f"{name}{revision}, section {section}")
    return tuple(words)


def open_items(walk: Walk) -> tuple[OpenItem, ...]:
    """The open items in the library's order."""
    return tuple(item for name, item in walk.library.open_items.items() if name in walk.key.open_items)


def open_lines(walk: Walk) -> tuple[str, ...]:
    """The open items in the library's order, each with its kind."""
    return tuple(f"OPEN ({item.kind}): {sentence(item.text)}" for item in open_items(walk))


def in_danger(walk: Walk) -> bool:
    """Whether a hazard is open."""
    return any(item.kind == "hazard" for item in open_items(walk))


def item_words(item: OpenItem) -> str:
    """An item by its kind and its words."""
    return f"{item.kind.upper()}: {sentence(item.text)}"


def still_so(item: OpenItem) -> str:
    """The question whether an item is still open."""
    return f"{item_words(item)} Is this still so?"


def first_line(walk: Walk) -> tuple[Block, ...]:
    """The line that stands first while the equipment is occupied, or may be."""
    if walk.library.occupant is not None and occupant_may_be_on(walk):
        return (Block("first", (sentence(walk.library.occupant.first),)),)
    return ()


def revision_words(walk: Walk, practice: bool) -> str:
    """Revision and standing of the tree, and PRACTICE where the walk is one."""
    words = f"Revision {walk.tree.revision}, {standing(walk.tree, walk.library)}."
    return f"PRACTICE. {words}" if practice else words


def status_block(walk: Walk, practice: bool) -> Block:
    """What walk it is and how it stands in one line, and what is open in one line each."""
    return Block("status", (status_line(walk, practice), *open_lines(walk)))


def status_line(walk: Walk, practice: bool) -> str:
    """Symptom, revision, model, role and occupant."""
    return f"{sentence(walk.tree.symptom)} {standing_words(walk, practice)}"


def standing_words(walk: Walk, practice: bool) -> str:
    """Revision, model, role and occupant."""
    words = [
        revision_words(walk, practice),
        f"{walk.key.model}." if not walk.tree.alike else "",
        f"Role: {walk.key.role}.",
        occupant_words(walk.library, walk.key.occupant),
    ]
    return " ".join(word for word in words if word)


def short_words(walk: Walk, practice: bool) -> tuple[str, str]:
    """The same where there is little room: what the tree is worth, with the model; then who walks and who is on it."""
    worth = f"{standing(walk.tree, walk.library).partition(',')[0]} r{walk.tree.revision}."
    model = "" if walk.tree.alike else f" {walk.key.model}."
    on_it = occupant_words(walk.library, walk.key.occupant).removesuffix(TAKEN_AS_ON)
    on_it = f"{on_it}{NOT_ANSWERED}." if on_it.endswith(" ") else on_it
    return f"{'PRACTICE. ' if practice else ''}{worth}{model}", f"{walk.key.role}. {on_it}".strip()


def tools_of(walk: Walk, step: Work) -> tuple[str, ...]:
    """The tools of a step and of its accesses."""
    accesses = [walk.library.accesses[name] for name in step.accesses]
    return tuple(dict.fromkeys((*(tool for access in accesses for tool in access.tools), *step.tools)))


def sees_figures(walk: Walk) -> bool:
    """Whether parts, documents and what is still possible are shown: not to the first role."""
    return walk.key.role != walk.library.first_role
