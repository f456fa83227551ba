"""A walk as blocks of text, shared by line mode, screen, cards and entry: the one place that words it."""

from faulttree.present.after import not_before_lines, order_lines, tag_lines
from faulttree.present.blocks import Block
from faulttree.present.choices import Choice, choices
from faulttree.present.ends import fallback_blocks, hand_over_page
from faulttree.present.letters import large
from faulttree.present.progress import done_so_far
from faulttree.present.resting import resting, resting_blocks
from faulttree.present.start import start_page
from faulttree.present.step import in_the_lines, next_line, screen

__all__ = [
    "Block",
    "Choice",
    "choices",
    "done_so_far",
    "fallback_blocks",
    "hand_over_page",
    "in_the_lines",
    "large",
    "next_line",
    "not_before_lines",
    "order_lines",
    "resting",
    "resting_blocks",
    "screen",
    "start_page",
    "tag_lines",
]
