"""What ``faulttree check`` found: one model, which every form of output is made from."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence

from faulttree.checking import examine
from faulttree.cli.selection import Selection
from faulttree.cli.targets import Target, asked_files, asked_trees, is_shared, load_target
from faulttree.library import LoadedLibrary
from faulttree.problems import ERROR, LetStand, Problem, in_order
from faulttree.value import EMPTY, Value, replace


class Result(Value):
    """What was found in one library, with all that was loaded."""

    target: Target
    loaded: LoadedLibrary
    trees: tuple[str, ...]
    problems: tuple[Problem, ...]
    let_stand: tuple[LetStand, ...] = ()
    unproved: Mapping[str, tuple[str, ...]] = EMPTY

    @property
    def sound(self) -> list[str]:
        """The trees that are asked about and have no error, nor have the shared files."""
        wrong = {problem.file for problem in self.problems if problem.severity == ERROR}
        if self.loaded.library is None or wrong.intersection(self.shared_files):
            return []
        return [id for id in self.trees if self.loaded.tree_files[id] not in wrong]

    @property
    def shared_files(self) -> list[str]:
        """The names of the shared files."""
        return [name for name, file in self.loaded.files.items() if is_shared(file.path, self.loaded.folder)]

    @property
    def tree_files(self) -> list[str]:
        """The files of trees that are asked about, readable or not."""
        asked = asked_files(self.target, self.loaded).difference(self.shared_files)
        return [name for name in self.loaded.files if name in asked]


def look_at(target: Target) -> Result:
    """The problems of one library, or of the part of it that is asked about."""
    loaded = load_target(target)
    trees = asked_trees(target, loaded)
    problems, let_stand, unproved = examine(loaded, only=trees)
    if target.parts:
        files = asked_files(target, loaded)
        problems = [each for each in problems if each.file in files or each.file not in loaded.files]
        let_stand = [each for each in let_stand if each.problem.file in files]
    return Result(target, loaded, tuple(trees), tuple(problems), tuple(let_stand), unproved)


class Found(Value):
    """What is told: problems and what is let stand, in order; the files looked at; texts of files with problems."""

    problems: tuple[Problem, ...]
    let_stand: tuple[LetStand, ...]
    left_out: tuple[Problem, ...]
    """Problems of rules that are not asked for."""
    trees: tuple[str, ...]
    shared: tuple[str, ...]
    texts: Mapping[str, str]
    unjudged: tuple[str, ...] = ()
    """Files of trees that no rule has looked at, because they or the shared files could not be read."""
    unproved: Mapping[str, tuple[str, ...]] = EMPTY
    """Files of trees that the proof has not looked at, with the rules that must be content first."""

    @property
    def files(self) -> tuple[str, ...]:
        """Every file that was looked at and every other one that has a problem, without repeats, in order."""
        return tuple(sorted({*self.trees, *self.shared, *(each.file for each in self.problems)}))

    def lines(self, file: str) -> Sequence[str]:
        """The lines of a file that has problems; none where it could not be read."""
        return self.texts.get(file, "").split("\n")


def found_by(result: Result) -> Found:
    """All that was found in one library, whatever is asked for."""
    texts = {name: file.text for name, file in result.loaded.files.items()}
    found = made(result.problems, result.let_stand, result.tree_files, result.shared_files, texts)
    return replace(found, unjudged=unjudged_in(result.loaded, found.trees), unproved=result.unproved)


def unjudged_in(loaded: LoadedLibrary, trees: Iterable[str]) -> tuple[str, ...]:
    """The files among ``trees`` that became no tree, so that no rule has looked at them."""
    judged = set(loaded.tree_files.values())
    return tuple(name for name in trees if name not in judged)


def made(
    problems: Iterable[Problem],
    let_stand: Collection[LetStand],
    trees: Iterable[str],
    shared: Iterable[str],
    texts: Mapping[str, str],
) -> Found:
    """What was found, in order and without repeats; of the texts those of files that have any problem."""
    ordered = in_order(list(problems))
    files = {each.file for each in ordered} | {each.problem.file for each in let_stand}
    return Found(
        tuple(ordered),
        tuple(sorted(set(let_stand), key=lambda each: each.problem.order())),
        (),
        tuple(dict.fromkeys(trees)),
        tuple(dict.fromkeys(shared)),
        {name: text for name, text in texts.items() if name in files},
    )


def joined(founds: Iterable[Found]) -> Found:
    """What was found in several libraries, or in several parts of one."""
    every = list(founds)
    found = made(
        (problem for found in every for problem in found.problems),
        [each for found in every for each in found.let_stand],
        (name for found in every for name in found.trees),
        (name for found in every for name in found.shared),
        {name: text for found in every for name, text in found.texts.items()},
    )
    return replace(
        found,
        unjudged=tuple(dict.fromkeys(name for each in every for name in each.unjudged)),
        unproved={name: because for each in every for name, because in each.unproved.items()},
    )


def selected(found: Found, selection: Selection) -> Found:
    """The same with what is not asked for left out."""
    if selection == Selection():
        return found
    told = tuple(each for each in found.problems if selection.tells(each))
    left_out = tuple(each for each in found.problems if not selection.tells(each))
    let_stand = tuple(each for each in found.let_stand if selection.tells(each.problem))
    return replace(found, problems=told, let_stand=let_stand, left_out=left_out)
