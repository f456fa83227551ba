"""Nodes as nested tuples, to compare them; with or without their places."""

from __future__ import annotations

from typing import Any

from faulttree.load.nodes import Items, Node, Scalar, Table


def placed(node: Node | None) -> Any:
    """Everything that a node knows."""
    if isinstance(node, Scalar):
        return (node.value, tuple(node.span), node.plain)
    if isinstance(node, Items):
        return ([placed(item) for item in node.items], tuple(node.span), node.flow)
    if isinstance(node, Table):
        entries = [(name, placed(entry.key), placed(entry.value)) for name, entry in node.entries.items()]
        return (entries, tuple(node.span), node.flow)
    return None


def bare(node: Node | None) -> Any:
    """Values only: texts, lists, and dictionaries."""
    if isinstance(node, Scalar):
        return node.value
    if isinstance(node, Items):
        return [bare(item) for item in node.items]
    if isinstance(node, Table):
        return {name: bare(entry.value) for name, entry in node.entries.items()}
    return None
