"""Which key presses count: not those of before a page was drawn, not a key that is held down.

Terminals send a held key as the same key again and again and do not say so. The first repeat comes after a quarter to
two thirds of a second, the others faster (common practice, no source), so the same key counts again only after it has
been silent for longer than that.
"""

from __future__ import annotations

SILENCE = 0.7
"""Seconds that a key must have been silent before it counts again."""


class Guard:
    """Judges key presses by their times, in seconds of one clock that never goes back."""

    def __init__(self, silence: float = SILENCE) -> None:
        self.silence = silence
        self.covers = 0
        """How often a page was covered; a page that is drawn late must not uncover the one that came after it."""
        self._drawn: float | None = None
        self._last: dict[str, float] = {}

    def share(self, presses: dict[str, float]) -> None:
        """Remember presses in ``presses``, which all pages have in common: a key may be held from one to the next."""
        self._last = presses

    def cover(self) -> None:
        """A new page is on its way: nothing counts until it is drawn."""
        self.covers += 1
        self._drawn = None

    def drawn(self, at: float) -> None:
        """The page is on the screen since ``at``."""
        self._drawn = at

    def counts(self, key: str, at: float) -> bool:
        """Whether the press of ``key`` at ``at`` counts; every press is remembered, those that do not count too."""
        before = self._last.get(key)
        self._last[key] = at
        fresh = before is None or at - before > self.silence
        return fresh and self.is_drawn(at)

    def is_held_over(self, key: str, at: float) -> bool:
        """Whether ``key`` is down since it answered another page. Until it falls silent it is no letter of a text."""
        held = at - self._last.get(key, float("-inf")) <= self.silence
        if held:
            self._last[key] = at
        return held

    def is_drawn(self, at: float) -> bool:
        """Whether the page was on the screen at ``at``."""
        return self._drawn is not None and at >= self._drawn
