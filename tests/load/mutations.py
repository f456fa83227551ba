"""Changes of one thing in the nodes of a file, in place and with a way back: what tests of shape are fed with."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator

from faulttree.load import keys, keys_tree
from faulttree.load.nodes import Entry, Items, Node, Scalar, Table
from faulttree.problems import Span

NOWHERE = Span(1, 1, 1, 1)

WORDS = (
    *(
        "1",
        "0",
        "-1",
        "2.5",
        "2.0",
        "0x10",
        "1e3",
        ".inf",
        "true",
        "False",
        "yes",
        "null",
        "a text",
        "out",
        "Good",
        "Finch",
    ),
    *("Wren", "SL-10", "others", "if needed", "allowed", "deferred", "hand over", "note", "warning", "hazard", "draft"),
    *(
        "2026-02-29",
        "2024-02-29",
        "2026-13-01",
        "0000-01-01",
        "LMP",
        "LIP",
        "a,b",
        "a:b",
        "ü",
        "x-a",
        "X-a",
        "-a",
        "A" * 41,
    ),
    *(
        "b" * 40,
        "c" * 24,
        "d" * 25,
        "two words",
        " blank before",
        "line\n",
        "line\nline",
        "\u00a0",
        "1" * 19,
        "٣",
        "first",
    ),
)


def scalar(chance: random.Random) -> Scalar:
    return Scalar(chance.choice(WORDS), NOWHERE, chance.random() < 0.6)


def any_node(chance: random.Random) -> Node:
    kind = chance.randrange(6)
    if kind == 0:
        return Items([scalar(chance) for _ in range(chance.randrange(4))], NOWHERE, True)
    if kind == 1:
        return table(
            {chance.choice(("Finch", "Wren", "to", "goto", "x-a", "LAMP-01", *WORDS)): scalar(chance) for _ in range(2)}
        )
    return scalar(chance)


def table(values: dict[str, Node]) -> Table:
    return Table(dict(entry_of(key, value) for key, value in values.items()), NOWHERE, True)


def entry_of(key: str, value: Node) -> tuple[str, Entry]:
    return key, Entry(Scalar(key, NOWHERE, True), value)


def collections(node: Node) -> Iterator[Table | Items]:
    if isinstance(node, Table):
        yield node
        for entry in node.entries.values():
            yield from collections(entry.value)
    elif isinstance(node, Items):
        yield node
        for item in node.items:
            yield from collections(item)


def mutate(root: Node, chance: random.Random) -> tuple[str, Callable[[], None]]:
    """Changes one thing in the nodes; gives back what, and a function that puts it back."""
    place = chance.choice(list(collections(root)))
    if isinstance(place, Table):
        before = place.entries
        place.entries, what = changed_table(dict(before), chance)
        return what, lambda: setattr(place, "entries", before)
    items = place.items
    place.items, what = changed_items(list(items), chance)
    return what, lambda: setattr(place, "items", items)


def changed_table(entries: dict[str, Entry], chance: random.Random) -> tuple[dict[str, Entry], str]:
    key = chance.choice(list(entries)) if entries else ""
    kind = chance.choice(("delete", "rename", "replace", "wrap", "each", "add", "swap", "clear")) if entries else "add"
    value = entries[key].value if entries else scalar(chance)
    if kind == "delete":
        del entries[key]
    elif kind == "rename":
        new = chance.choice(
            (key + "s", "x-" + key, key.upper(), key.lower(), *WORDS, *list(keys_tree.FIX_KEYS.readers))
        )
        entries = dict(entry_of(new if each == key else each, entry.value) for each, entry in entries.items())
        kind = f"rename to {new!r}"
    elif kind == "add":
        key = chance.choice((*WORDS, *keys_tree.CHECK_KEYS.readers, *keys.ACCESS_KEYS.readers, "end", "again", "fix"))
        entries |= [entry_of(key, any_node(chance))]
    elif kind == "swap":
        other = chance.choice(list(entries))
        entries |= [entry_of(key, entries[other].value), entry_of(other, value)]
        kind = f"swap with {other!r}"
    elif kind == "clear":
        entries = {}
    else:
        entries |= [entry_of(key, changed_value(kind, value, chance))]
    return entries, f"{kind} {key!r}"


def changed_value(kind: str, value: Node, chance: random.Random) -> Node:
    if kind == "wrap":
        if isinstance(value, Items) and len(value.items) == 1:
            return value.items[0]
        return Items([value], NOWHERE, False)
    if kind == "each":
        return table({"Finch": value, chance.choice(("Wren", "wren", "x-Wren")): value})
    return any_node(chance)


def changed_items(items: list[Node], chance: random.Random) -> tuple[list[Node], str]:
    kind = chance.choice(("delete", "double", "replace", "wrap", "clear", "add"))
    index = chance.randrange(len(items)) if items else 0
    if kind == "clear" or not items:
        return [], "clear list"
    if kind == "delete":
        del items[index]
    elif kind == "double":
        items.insert(index, items[index])
    elif kind == "add":
        items.append(any_node(chance))
    else:
        items[index] = changed_value(kind, items[index], chance)
    return items, f"{kind} item {index}"
