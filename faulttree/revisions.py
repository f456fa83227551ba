"""Libraries out of git: the files of a library as a revision has them, put into a folder to be loaded from there.

git is run without a shell, with every name behind `--` or checked, and asked only for what it has stored: no filter,
no hook, no pager and no network. Only regular files whose names a library may have are put down.
"""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path, PurePosixPath
from typing import NamedTuple

from faulttree.library_files import LIBRARY_FILE, LIKE_SUFFIX, MOST_BYTES
from faulttree.problems import UnreadableError, UsageError
from faulttree.value import Value

SECONDS = 60
MOST_FILES = 20_000
REGULAR = ("100644", "100755", "100664")
CALM = {
    "GIT_TERMINAL_PROMPT": "0",
    "GIT_OPTIONAL_LOCKS": "0",
    "GIT_LITERAL_PATHSPECS": "1",
    "GIT_NO_LAZY_FETCH": "1",
    "GIT_NO_REPLACE_OBJECTS": "1",
    "LC_ALL": "C",
}
"""No question, no lock, no pattern in a path, nothing fetched, and messages in one language."""


class Fetched(Value):
    """What was put down: the folder of the library, and in it what was asked for; empty for all of it."""

    folder: Path
    part: str


class Blob(NamedTuple):
    """A regular file of a revision."""

    name: str
    path: str


def split_revision(word: str) -> tuple[str, str] | None:
    """The revision and the path of ``REV:path``; None where the word is no such thing."""
    revision, colon, path = word.partition(":")
    return (revision, path) if colon and revision else None


def fetch(word: str, cwd: Path, into: Path, environ: Mapping[str, str]) -> Fetched:
    """The library around ``REV:path``, all from that revision, put into the folder ``into``.

    The path counts from the top of the repository; with `./` in front, from ``cwd``. Raises `UnreadableError` where
    git, the repository, the revision or the path is not there, `UsageError` where the word cannot be one.
    """
    revision, path = split_revision(word) or ("", "")
    if not revision or revision.startswith("-") or not word.isprintable():
        raise UsageError(f'"{word}" is no revision and path', "write it as REV:path, as in HEAD:trees")
    git = Git(cwd, environ)
    top = git.ask(["rev-parse", "--show-toplevel"], "this folder is in no git repository", "run it inside one")
    if not git.has_commits():
        advice = 'commit the library first: "git add", "git commit"'
        raise UnreadableError("nothing was committed in this repository yet", advice)
    commit = git.ask(
        ["rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}"],
        f'there is no revision "{revision}" in this repository',
        'see "git log --oneline" and "git branch --all"; a shallow clone has only the newest',
    )
    inside = _inside(path, cwd, Path(top))
    kind = git.kind(commit, inside)
    if not kind:
        raise UnreadableError(f'there is no "{inside}" in revision "{revision}"', _where_from(path))
    folder = git.library_above(commit, inside if kind == "tree" else str(PurePosixPath(inside).parent))
    if folder is None:
        where = f'"{inside}"' if inside else "the top"
        what = f'there is no {LIBRARY_FILE} at or above {where} in revision "{revision}"'
        raise UnreadableError(what, "name a folder or file of a library")
    git.put(list(git.files(commit, folder)), folder, into)
    part = "" if PurePosixPath(inside) == PurePosixPath(folder) else os.path.relpath(inside or ".", folder or ".")
    return Fetched(into, part.replace(os.sep, "/"))


def _inside(path: str, cwd: Path, top: Path) -> str:
    """The path from the top of the repository; raises `UsageError` where it leads out of it."""
    start = ""
    if path.startswith(("./", "../")) or path in (".", ".."):
        start = os.path.relpath(os.path.realpath(cwd), os.path.realpath(top)).replace(os.sep, "/")
    inside = os.path.normpath(f"{start}/{path}" if start else path or ".").replace(os.sep, "/")
    if inside.startswith(("../", "/")) or inside == "..":
        raise UsageError(f'"{path}" leads out of the repository', "give the path from the top of the repository")
    return "" if inside == "." else inside


def _where_from(path: str) -> str:
    if path.startswith("./"):
        return "check the path; it counts from the current folder"
    return "the path counts from the top of the repository; with ./ in front, from the current folder"


class Git:
    """git in one repository."""

    def __init__(self, cwd: Path, environ: Mapping[str, str]) -> None:
        from shutil import which

        program = which("git", path=environ.get("PATH"))
        if program is None:
            raise UnreadableError("git is not installed, or not in PATH", "install it, or compare files and folders")
        self._start = [program, "--no-pager", "-c", "core.fsmonitor=false", "-C", str(cwd)]
        self._environ = {**environ, **CALM}

    def run(self, words: Sequence[str], given: bytes = b"") -> subprocess.CompletedProcess[bytes]:
        """Run git to its end."""
        try:
            return subprocess.run(
                [*self._start, *words],
                input=given,
                capture_output=True,
                env=self._environ,
                timeout=SECONDS,
                check=False,
            )
        except subprocess.TimeoutExpired:
            raise UnreadableError(f"git did not answer within {SECONDS} seconds", "try again") from None
        except OSError as error:
            reason = (error.strerror or "unknown reason").lower()
            raise UnreadableError(f"git cannot be run: {reason}", "compare files and folders instead") from None

    def ask(self, words: Sequence[str], refused: str, advice: str) -> str:
        """One line of answer; `UnreadableError` with these words where git has none."""
        done = self.run(words)
        answer = os.fsdecode(done.stdout).strip("\n")
        if done.returncode or not answer:
            owner = b"dubious ownership" in done.stderr
            why = "git refuses the repository, because it belongs to somebody else" if owner else refused
            raise UnreadableError(why, "make it yours, or see git's safe.directory" if owner else advice)
        return answer

    def has_commits(self) -> bool:
        """Whether the repository has any; what git says otherwise is nobody's question here."""
        done = self.run(["rev-list", "--all", "--max-count=1"])
        return bool(done.returncode or done.stdout.strip())

    def kind(self, commit: str, path: str) -> str:
        """``tree`` for a folder, ``blob`` for a file, empty where there is no such path."""
        if not path:
            return "tree"
        for record in self._listed(["--full-tree", "-z", commit, "--", path]):
            return record[0].split()[1]
        return ""

    def library_above(self, commit: str, folder: str) -> str | None:
        """The nearest folder upward that has a library; empty for the top."""
        start = PurePosixPath(folder)
        for each in (start, *start.parents):
            name = "" if str(each) == "." else str(each)
            if self.kind(commit, f"{name}/{LIBRARY_FILE}" if name else LIBRARY_FILE) == "blob":
                return name
        return None

    def files(self, commit: str, folder: str) -> Iterator[Blob]:
        """The regular files below ``folder`` that can be of a library."""
        words = ["-r", "--full-tree", "-z", commit, *(["--", f"{folder}/"] if folder else [])]
        for (mode, _, name), path in ((record[0].split(), record[1]) for record in self._listed(words)):
            parts = path.split("/")
            is_plain = all(part and not part.startswith(".") and "\\" not in part and ":" not in part for part in parts)
            if mode in REGULAR and is_plain and path.lower().endswith(LIKE_SUFFIX):
                yield Blob(name, path)

    def _listed(self, words: Sequence[str]) -> list[tuple[str, str]]:
        done = self.run(["ls-tree", *words])
        if done.returncode:
            raise UnreadableError("git cannot list that revision", 'see what "git fsck" says of the repository')
        records = [os.fsdecode(record).partition("\t") for record in done.stdout.split(b"\0") if record]
        return [(meta, path) for meta, _, path in records]

    def put(self, blobs: Sequence[Blob], folder: str, into: Path) -> None:
        """Write these files below ``into``, by their paths from ``folder``."""
        if len(blobs) > MOST_FILES:
            raise UnreadableError(f"the library has more than {MOST_FILES} files", "name one that is smaller")
        done = self.run(["cat-file", "--batch"], "".join(f"{blob.name}\n" for blob in blobs).encode())
        at = 0
        for blob in blobs:
            end = done.stdout.find(b"\n", at)
            words = done.stdout[at:end].split() if end >= 0 else []
            if done.returncode or len(words) != 3:
                raise UnreadableError(f'git cannot read "{blob.path}"', 'see what "git fsck" says of the repository')
            size = int(words[2])
            path = into / blob.path.removeprefix(f"{folder}/" if folder else "")
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(done.stdout[end + 1 : end + 1 + min(size, MOST_BYTES)])
            at = end + 1 + size + 1
