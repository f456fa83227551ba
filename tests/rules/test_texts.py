"""What a file says, as the rules on wording read it."""

from __future__ import annotations

import pytest
from contexts import contexts
from shipped import shipped

from faulttree.rules.sentences import sentences
from faulttree.rules.words import VERBS


def test_the_quick_texts_have_all_that_have_places() -> None:
    """`strings` and `texts` are gathered apart; every text with a place is among the quick ones."""
    for context in contexts(shipped()):
        quick = set(context.prose.strings)
        assert {text.text for text in context.prose.texts} <= quick
        assert all(
            context.written(text.path) or isinstance(text.path[-1], int) for text in context.prose.texts if text.text
        )


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("Push it. Pull it.", ("Push it.", "Pull it.")),
        ("Cot no. 3 is 4.5 mm off. Tag it.", ("Cot no. 3 is 4.5 mm off.", "Tag it.")),
        ("Is it whole? It is!", ("Is it whole?", "It is!")),
        ("", ("",)),
    ],
)
def test_sentences(text: str, parts: tuple[str, ...]) -> None:
    """Points of numbers and of "no." end no sentence."""
    assert sentences(text) == parts


def test_verbs_are_in_their_plain_form() -> None:
    """The list of verbs has plain forms only; others would never stand at the head of an instruction."""
    assert not [verb for verb in VERBS if verb.endswith("ing") and verb not in ("bring", "swing")]
