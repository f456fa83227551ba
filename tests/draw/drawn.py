"""Reading drawings back: from our own text by a small reader of its own, and from what dot says of it as JSON.

What a drawing should have is worked out here from the model alone.
"""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from faulttree.library import load_library, shipped_library
from faulttree.model import Check, End, Fix, Library, Tree, Variant


def _loaded(folder: Path) -> tuple[Library, list[Tree]]:
    loaded = load_library(folder)
    assert loaded.library
    return loaded.library, list(loaded.trees.values())


SAMPLE = Path(__file__).parents[1] / "sample"
LIBRARIES = [_loaded(shipped_library()), _loaded(SAMPLE)]
DOT = shutil.which("dot")
WORDS = ("unable", "failed", "cannot")


class Node(NamedTuple):
    name: str
    id: str
    kind: str
    label: str


class Edge(NamedTuple):
    tail: str
    head: str
    kind: str
    label: str


class Graph(NamedTuple):
    nodes: list[Node]
    edges: list[Edge]


# -- what should be there


def expected(library: Library, variant: Variant, role: str) -> tuple[set[str], Counter[tuple[str, str, str]]]:
    """The steps that a role meets, and every route on from those that it may do."""
    met: set[str] = set()
    found: Counter[tuple[str, str, str]] = Counter()
    ahead = [variant.start]
    while ahead:
        name = ahead.pop()
        if name in met:
            continue
        met.add(name)
        for answer, to in _routes(library, variant, name, role):
            found[name, answer, to] += 1
            ahead.append(to)
    return met, found


def _routes(library: Library, variant: Variant, name: str, role: str) -> Iterator[tuple[str, str]]:
    step = variant.steps[name]
    if step.who and role != step.who and step.who not in library.roles[role].covers:
        return
    if isinstance(step, Check):
        yield from ((each.label, each.goto) for each in step.findings)
        if step.unable:
            yield "unable", step.unable.to
    if isinstance(step, Fix) and step.failed:
        proof = library.operational_checks[step.operational_check]
        if proof.who == role or proof.who in library.roles[role].covers:
            yield "failed", step.failed.to
    if isinstance(step, Fix | End) and step.cannot:
        yield "cannot", step.cannot.to


# -- what is there


def words(label: str) -> str:
    """The text of a label."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", label)).replace("\\\\", "\\").split())


def routes(graphs: Iterable[Graph], variant: Variant) -> tuple[Counter[str], Counter[tuple[str, str, str]]]:
    """The steps of all parts, and the routes, whether they are lines, broken lines or words in a box."""
    graphs = list(graphs)
    names = {node.name: node.id.removeprefix("step-") for graph in graphs for node in graph.nodes if node.id}
    steps = Counter(node.id.removeprefix("step-") for graph in graphs for node in graph.nodes if "step " in node.kind)
    found: Counter[tuple[str, str, str]] = Counter()
    for graph in graphs:
        jumps = {node.name: f"n{words(node.label)}" for node in graph.nodes if node.kind == "connector"}
        for edge in graph.edges:
            if edge.kind:
                source = names[f"n{edge.tail.lstrip('dn')}"]
                target = names[jumps.get(edge.head, edge.head)]
                found[source, _answer(variant, source, edge, target), target] += 1
        for node in graph.nodes:
            for answer, number in _leads(node.label):
                found[names[node.name], answer, names[f"n{number}"]] += 1
    return steps, found


def _answer(variant: Variant, source: str, edge: Edge, target: str) -> str:
    text = words(edge.label)
    if edge.kind != "finding":
        assert text.startswith(edge.kind)
        return edge.kind
    step = variant.steps[source]
    assert isinstance(step, Check)
    fitting = [each.label for each in step.findings if f"{text} ".startswith(f"{each.label} ") and each.goto == target]
    assert fitting, (source, text, target)
    return max(fitting, key=len)


def _leads(label: str) -> Iterator[tuple[str, str]]:
    for cell in label.split("<HR/>"):
        text = re.sub(r"\([^()]*\)", "", words(cell))
        for part, number in re.findall(r"(.*?): go to (\d+)", text):
            yield from ((word, number) for word in re.findall(r"\b(unable|failed|cannot)\b", part))


# -- readers


def by_dot(text: str) -> Graph:
    """A graph as dot understood it; it must have nothing to complain of."""
    assert DOT
    done = subprocess.run([DOT, "-Tjson"], input=text.encode(), capture_output=True, check=True)
    assert done.stderr == b""
    told = json.loads(done.stdout)
    objects = {each["_gvid"]: each for each in told["objects"] if "nodes" not in each and "subgraphs" not in each}
    nodes = [
        Node(each["name"], each.get("id", ""), each.get("class", ""), each.get("label", ""))
        for each in objects.values()
    ]
    edges = [
        Edge(objects[each["tail"]]["name"], objects[each["head"]]["name"], each.get("class", ""), each.get("label", ""))
        for each in told.get("edges", [])
    ]
    return Graph(nodes, edges)


STATEMENT = re.compile(r"^    (\w+)(?: -> (\w+))?(?: \[(.*)\])?;$")
SETTING = re.compile(r'(\w+)=("(?:[^"\\]|\\.)*"|<(?:<.*>|[^<].*)>|[\w.]+)(?:, |$)')


def by_hand(text: str) -> Graph:
    """A graph by its lines, as we write them: a statement a line."""
    nodes, edges = [], []
    for line in text.splitlines():
        found = STATEMENT.match(line)
        if not found or found[1] in ("peripheries", "label"):
            continue
        settings = {name: value.strip('"') for name, value in SETTING.findall(found[3] or "")}
        if found[2]:
            edges.append(Edge(found[1], found[2], settings.get("class", ""), settings.get("label", "")))
        else:
            nodes.append(Node(found[1], settings.get("id", ""), settings.get("class", ""), settings.get("label", "")))
    return Graph(nodes, edges)
