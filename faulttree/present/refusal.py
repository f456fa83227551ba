"""What a person is told where something is not possible: what is wrong and what to do, as sentences."""

from __future__ import annotations

from faulttree.present.blocks import sentence
from faulttree.problems import FaulttreeError


def refusal(error: FaulttreeError) -> str:
    """What is wrong and what to do, as sentences that begin as sentences do."""
    return " ".join(sentence(text[:1].upper() + text[1:]) for text in (error.what, error.advice) if text)
