"""What is said last of a walk, however it was left."""

from __future__ import annotations

from test_present_after import all_done, minutely, rel

from faulttree.closing import GIVEN_UP
from faulttree.keys import Kind, Move
from faulttree.present.after import not_before_lines
from faulttree.present.over import last_words
from faulttree.walk import apply

SAVED = "The walk is saved and {}. NOT APPROVED FOR RETURN TO SERVICE."


def left(*moves: Move):
    """A walk whose work was done and has to cure, left by these moves; what it says last."""
    walk = all_done(rel("Still held", "Short of the line", "Moves"))
    for move in moves:
        walk = apply(walk, move)
    return walk, last_words(walk, minutely(walk))


def test_what_is_open_and_what_has_to_be_waited_for_is_said_however_it_was_left() -> None:
    ways = {
        "unfinished": Move(Kind.STOP),
        "handed over": Move(Kind.HAND_OVER, to="mechanic"),
        "given up": Move(Kind.STOP, label=GIVEN_UP, text="spare cot taken"),
    }
    for how, move in ways.items():
        walk, words = left(move)
        assert words[0].startswith("STILL OPEN (duty): Tag on the mount.")
        assert words[1:-1] == not_before_lines(walk, minutely(walk)) != ()
        said = "The walk was given up (spare cot taken). NOT APPROVED FOR RETURN TO SERVICE."
        assert words[-1] == (said if how == "given up" else SAVED.format(how))


def test_without_times_nothing_is_said_of_waiting_and_an_unrecorded_answer_is_named() -> None:
    walk, words = left()
    assert last_words(walk, (), is_unrecorded=True) == (
        words[0],
        "THE LAST ANSWER IS NOT RECORDED and does not count.",
        SAVED.format("unfinished"),
    )
