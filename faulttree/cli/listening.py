"""Words that are heard at every prompt of line mode, whatever it asks for: the fallback is one word away, always."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from faulttree.cli.lines import Lines, show, wrapped
from faulttree.cli.output import out
from faulttree.keys import ASIDES, Kind
from faulttree.present import Block, done_so_far, fallback_blocks
from faulttree.present.answer import WORDS
from faulttree.present.blocks import open_lines
from faulttree.present.ends import code_blocks
from faulttree.present.progress import set_aside
from faulttree.walk import Walk

FALLBACK, STOP = str(Kind.FALLBACK), str(Kind.STOP)
ANYWHERE = (FALLBACK, STOP, *ASIDES)
"""The words. Each is one only where it was typed alone: "fallback line 2 jammed" may be a reason."""

NO_TREE_YET = (
    "Each symptom has its own fallback: name the symptom first. If it cannot wait, use the operator's emergency "
    "procedure."
)

NO_CODE = "This walk has no read-back code: its tree was withdrawn, and nobody goes on from it."


class Said(Exception):
    """One of these words gives up what was asked for; carries it."""

    def __init__(self, word: str) -> None:
        super().__init__(word)
        self.word = word


def word_anywhere(typed: str) -> str:
    """The word of ``ANYWHERE`` that was typed, however it was written; empty for anything else."""
    word = " ".join(typed.split()).casefold().rstrip(".!")
    return word if word in ANYWHERE else ""


class Listening:
    """Lines in which these words are heard first. ``hear`` says whether the prompt is to be asked again; or raises."""

    def __init__(self, lines: Lines, hear: Callable[[str], bool]) -> None:
        self.lines = lines
        self.hear = hear
        self.strict = lines.strict
        self.attended = lines.attended

    def read(self, prompt: str) -> str | None:
        """The next line that is an answer to the prompt; None where there is no more."""
        while True:
            typed = self.lines.read(prompt)
            word = word_anywhere(typed or "")
            if not word or not self.hear(word):
                return typed

    def place(self) -> str:
        """Where the last line stood, for messages."""
        return self.lines.place()


class Beforehand(Listening):
    """Lines for what is asked before a walk goes on: at its beginning, and of whoever takes it up again.

    The fallback is shown at once, of the tree as soon as it is known. Which line of it worked can only be recorded
    in the walk: ``is_owed`` says that it is to be asked there.
    """

    def __init__(self, lines: Lines) -> None:
        super().__init__(lines, self._hear)
        self.walk: Walk | None = None
        """The walk as far as it is known; at its beginning one that only knows its tree."""
        self.is_recorded = False
        self.has_code = True
        """Whether somebody can go on from its read-back code."""
        self.is_owed = False

    def _hear(self, word: str) -> bool:
        if word == STOP:
            raise Said(word)
        if word == FALLBACK:
            out(wrapped(NO_TREE_YET)) if self.walk is None else self._show_fallback(self.walk)
        elif word in ("help", "?"):
            words = ANYWHERE if self.is_recorded else (FALLBACK, STOP, "help")
            show_words(tuple(each for each in words if self.has_code or each != "code"))
        elif self.walk is not None and self.is_recorded:
            show_aside(self.walk, word, self.has_code)
        else:
            return False
        out("")
        return True

    def _show_fallback(self, walk: Walk) -> None:
        show_fallback(walk)
        self.is_owed = bool(walk.tree.fallback)


def show_fallback(walk: Walk) -> None:
    """What to do at once when it cannot wait; only a tree for equipment that nobody is on may have nothing of it."""
    if walk.tree.fallback:
        show(fallback_blocks(walk))
    else:
        out("This tree has no fallback.")


def show_words(words: Sequence[str]) -> None:
    """The words among ``words`` that help names, each with what it does."""
    show([Block("text", tuple(line for word, line in WORDS.items() if word in words))])


def show_aside(walk: Walk, word: str, has_code: bool = True) -> None:
    """What one of ``ASIDES`` but help shows. No code is shown where nobody can go on from it."""
    if word == "so far":
        show([done_so_far(walk), set_aside(walk)])
    elif word == "open":
        show([Block("open", open_lines(walk) or ("Nothing is recorded as open.",))])
    else:
        show(code_blocks(walk) if has_code else [Block("text", (NO_CODE,))])
