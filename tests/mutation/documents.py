"""The files of a library as plain data that can be broken and read again, with what they are read with.

Comments are lost on the way; texts in quotes stay in quotes and plain ones plain, for the format tells them apart.
"""

from __future__ import annotations

import pickle
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import yaml

from faulttree.checking import check_library
from faulttree.compare import Side
from faulttree.digest import used_names
from faulttree.library import LibraryFile, LoadedLibrary
from faulttree.load.build import build_library, build_tree
from faulttree.load.nodes import Node, Scalar, Table
from faulttree.load.parse import load
from faulttree.model import Library, Tree
from faulttree.problems import Problem
from faulttree.value import replace

DUMPER = getattr(yaml, "CSafeDumper", yaml.SafeDumper)
RESOLVER = yaml.SafeLoader("")


class Quoted(str):
    """A text that stood in quotes."""


Docs = dict[str, dict[str, Any]]
"""By kind of file its data: `tree`, and the shared ones by their names."""


def plain(node: Node | None) -> Any:
    """A node as dictionaries, lists and texts."""
    if isinstance(node, Table):
        return {key: plain(entry.value) for key, entry in node.entries.items()}
    if isinstance(node, Scalar):
        return node.value if node.plain else Quoted(node.value)
    return [plain(each) for each in node.items] if node else None


def text_of(data: Any) -> str:
    """The YAML of plain data."""
    return yaml.serialize(_node(data), Dumper=DUMPER, width=100_000, allow_unicode=True)


def _node(data: Any) -> yaml.Node:
    if isinstance(data, Mapping):
        pairs = [(_node(key), _node(each)) for key, each in data.items()]
        return yaml.MappingNode("tag:yaml.org,2002:map", pairs, flow_style=False)
    if isinstance(data, list):
        return yaml.SequenceNode("tag:yaml.org,2002:seq", [_node(each) for each in data], flow_style=False)
    text = str(data)
    if isinstance(data, Quoted) or not text:
        return yaml.ScalarNode("tag:yaml.org,2002:str", text, style='"')
    return yaml.ScalarNode(RESOLVER.resolve(yaml.ScalarNode, text, (True, False)), text)


class Subject:
    """A tree of a loaded library, its documents, and what is known of it while nothing is broken."""

    def __init__(self, loaded: LoadedLibrary, id: str) -> None:
        assert loaded.library
        self.loaded, self.id = loaded, id
        self.file = loaded.files[loaded.tree_files[id]]
        self.shared = {Path(name).stem: file for name, file in loaded.files.items() if _is_shared(loaded, file)}
        self.docs: Docs = {kind: plain(file.root) for kind, file in self.shared.items()}
        self.docs["tree"] = plain(self.file.root)
        library, tree, problems = self.read(self.docs)
        assert library
        assert tree
        self.library, self.tree = library, tree
        self.side = Side(library, {id: tree})
        self.used = used_names(tree, library)
        self.whole = pickle.dumps(self.docs)
        self.known = {said(problem) for problem in problems}

    def copy(self) -> Docs:
        """The documents, to be changed."""
        docs: Docs = pickle.loads(self.whole)
        return docs

    def read(self, docs: Docs) -> tuple[Library | None, Tree | None, list[Problem]]:
        """What these documents mean, and every problem of them."""
        files = dict(self.loaded.files)
        changed = {kind for kind in docs if not hasattr(self, "known") or docs[kind] != self.docs[kind]}
        library, problems = self._library(docs, changed, files)
        if library is None:
            return None, None, problems
        file = _again(self.file, docs["tree"]) if "tree" in changed else self.file
        files[file.file] = file
        tree, found = build_tree(file.root, library, file.file) if file.root else (None, [])
        problems += [*file.problems, *found]
        if tree is None:
            return library, None, problems
        trees = {name: each for name, each in self.loaded.trees.items() if name != self.id} | {tree.id: tree}
        tree_files = {**self.loaded.tree_files, tree.id: file.file}
        loaded = replace(
            self.loaded, library=library, trees=trees, files=files, tree_files=tree_files, problems=tuple(problems)
        )
        return library, tree, check_library(loaded, only=[tree.id])

    def _library(
        self, docs: Docs, changed: set[str], files: dict[str, LibraryFile]
    ) -> tuple[Library | None, list[Problem]]:
        if not changed - {"tree"}:
            return self.library, []
        shared = {kind: _again(file, docs[kind]) if kind in changed else file for kind, file in self.shared.items()}
        files.update({file.file: file for file in shared.values()})
        roots = {kind: file.root for kind, file in shared.items() if file.root}
        return build_library(roots, {kind: file.file for kind, file in shared.items()})


def _is_shared(loaded: LoadedLibrary, file: LibraryFile) -> bool:
    return file.file not in loaded.tree_files.values()


def _again(file: LibraryFile, data: Any) -> LibraryFile:
    text = text_of(data)
    root, text, problems = load(text.encode(), file.file)
    return LibraryFile(file.path, file.file, text, root, problems)


def said(problem: Problem) -> tuple[str, str]:
    """A problem without its place, which every change of a file moves."""
    return problem.rule, problem.message
