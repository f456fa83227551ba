"""Which key presses count: a held key once, none before the page is drawn, another key at once."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from faulttree.tui.guard import SILENCE, Guard

DELAYS = (0.25, 0.33, 0.5, 0.66)
"""Seconds until keyboards and terminals begin to repeat a held key, on common systems (common practice, no source)."""

presses = st.lists(st.tuples(st.sampled_from("ab12"), st.floats(0.001, 1.5)), max_size=40)
"""Keys with the seconds since the press before."""


def timed(pressed: list[tuple[str, float]]) -> list[tuple[str, float]]:
    """The same with the times of one clock."""
    at, found = 100.0, []
    for key, later in pressed:
        at += later
        found.append((key, at))
    return found


def test_a_held_key_counts_once_whatever_the_terminal_repeats_it_with() -> None:
    for delay in DELAYS:
        for rate in (10, 15, 30, 60):
            guard = Guard()
            guard.drawn(0)
            times = [1.0, *(1.0 + delay + at / rate for at in range(200))]
            assert [guard.counts("1", at) for at in times] == [True] + [False] * 200


@given(st.lists(st.floats(0, SILENCE), max_size=60))
def test_a_key_that_never_falls_silent_counts_once(gaps: list[float]) -> None:
    guard, at = Guard(), 10.0
    guard.drawn(0)
    assert guard.counts("enter", at)
    for gap in gaps:
        at += gap * 0.999
        assert not guard.counts("enter", at)


def test_after_the_silence_the_same_key_counts_again() -> None:
    guard = Guard()
    guard.drawn(0)
    assert guard.counts("1", 1.0)
    assert not guard.counts("1", 1.0 + SILENCE)
    assert guard.counts("1", 1.0 + 2 * SILENCE + 0.001)


def test_the_silence_is_longer_than_any_delay_of_a_held_key() -> None:
    assert max(DELAYS) < SILENCE < 1


def test_other_keys_count_at_once() -> None:
    guard = Guard()
    guard.drawn(0)
    assert guard.counts("1", 1.0)
    assert guard.counts("2", 1.001)
    assert guard.counts("enter", 1.002)


@given(presses)
def test_other_keys_in_between_do_not_let_a_held_key_count(pressed: list[tuple[str, float]]) -> None:
    """Against each key judged by itself: a press counts exactly when the same key was silent long enough."""
    guard = Guard()
    guard.drawn(0)
    last: dict[str, float] = {}
    for key, at in timed(pressed):
        fresh = key not in last or at - last[key] > SILENCE
        last[key] = at
        assert guard.counts(key, at) == fresh


def test_nothing_counts_before_a_page_was_ever_drawn() -> None:
    assert not Guard().counts("1", 5.0)
    assert not Guard().is_drawn(1e9)


@given(presses, st.floats(100.0, 130.0))
def test_nothing_counts_that_was_pressed_before_the_page_was_drawn(
    pressed: list[tuple[str, float]], drawn: float
) -> None:
    guard = Guard()
    guard.drawn(0)
    guard.cover()
    times = timed(pressed)
    covered = [(key, at) for key, at in times if at < drawn]
    assert not any(guard.counts(key, at) for key, at in covered)
    guard.drawn(drawn)
    assert not any(guard.counts(key, at) for key, at in covered), "told late, it was still pressed early"


def test_a_key_held_over_the_change_of_pages_counts_on_neither_again() -> None:
    """The press that answered one page goes on being sent while the next is drawn."""
    guard = Guard()
    guard.drawn(0)
    assert guard.counts("1", 1.0)
    guard.cover()
    assert not guard.counts("1", 1.5)
    guard.drawn(1.52)
    assert not any(guard.counts("1", 1.53 + at / 30) for at in range(60))
    assert guard.counts("2", 3.6)


def test_a_key_that_was_pressed_too_early_has_to_fall_silent_before_it_counts() -> None:
    """Held from before the page was there, it answers nothing on it."""
    guard = Guard()
    assert not guard.counts("1", 0.9)
    guard.drawn(1.0)
    assert not guard.counts("1", 1.2)
    assert guard.counts("1", 1.2 + SILENCE + 0.01)


def test_a_negative_silence_lets_all_count_once_it_is_drawn() -> None:
    """What the other tests of the screen run with."""
    guard = Guard(-1.0)
    guard.drawn(0)
    assert [guard.counts("1", 1.0) for _ in range(3)] == [True, True, True]
    guard.cover()
    assert not guard.counts("1", 1.0)


# -- pages that follow each other


def test_pages_that_share_their_presses_know_a_key_that_is_held_from_one_to_the_next() -> None:
    presses: dict[str, float] = {}
    first, second = Guard(), Guard()
    for guard in (first, second):
        guard.share(presses)
        guard.drawn(0)
    assert first.counts("1", 1.0)
    assert not second.counts("1", 1.5)
    assert second.counts("2", 1.5)
    assert second.counts("1", 1.5 + SILENCE + 0.01)


@given(st.lists(st.floats(0.001, SILENCE * 0.999), min_size=1, max_size=50))
def test_a_key_held_into_a_text_is_no_letter_until_it_falls_silent(gaps: list[float]) -> None:
    guard = Guard()
    guard.drawn(0)
    at = 5.0
    guard.counts("n", at)
    for gap in gaps:
        at += gap
        assert guard.is_held_over("n", at)
        assert not guard.is_held_over("m", at)
    at += SILENCE + 0.001
    assert not any(guard.is_held_over("n", at + later / 100) for later in range(20)), "then it comes as it is typed"
