"""Files, file names and words that somebody could send to do harm, or by accident.

What they are is in their names. ``contents`` are to be met as a tree or as any shared file; ``texts`` as a word, a file
name or a text inside a file; ``strange_entries`` puts things into a folder that are no plain files.
"""

from __future__ import annotations

import os
import random
from pathlib import Path

SAMPLE = Path(__file__).parent / "sample"
LAMP = SAMPLE / "lamp-does-not-light.yaml"
TREE = LAMP.read_text(encoding="utf-8")

texts: dict[str, str] = {
    "markup": "[/red][CAUTION] hot [A1-3]",
    "script": "</script><script>alert(1)</script>",
    "formula": "=cmd|' /C calc'!A0",
    "workflow command": "%0A::error file=a,line=1::x",
    "second line": "x\n::error::y",
    "upward": "../../../etc/passwd",
    "windows path": "..\\..\\x",
    "emoji": "\U0001f681\U0001f469\u200d\U0001f692",
    "right to left": "\u05e9\u05dc\u05d5\u05dd \u0645\u0631\u062d\u0628\u0627",
    "override": "a\u202etxt.exe\u202c",
    "combining": "e\u0301\u0302" * 20,
    "zalgo": "Z" + "\u0334\u0321\u035d\u0301" * 40,
    "escape": "\x1b[2J\x1b]0;title\x07",
    "one-byte escape": "\x9b31m",
    "surrogate": "\ud800",
    "line separator": "a\u2028b\u2029c\x85d",
    "wide": "\u97f3" * 300,
    "long": "x" * 5000,
    "option": "--help-me",
    "dash": "-",
    "nothing": "",
    "blank": "   ",
    "braces": "{0} {x!r} %s %n",
}

CHECK = """\
  s{at}:
    check: Is it good at {at}?
    who: user
    findings:
      Good: s{next}
      Bad: s{after}
"""
LAST = """\
    operational_check: lights-ten-times
    failed: out-of-use
    cannot: out-of-use
  out-of-use:
    end: out of service
"""
FIX = """\
  s{at}:
    fix: Fit a new one
    clears: [worn]
    who: user
    do: Fit it.
"""


def _long_tree(steps: int) -> str:
    """A sound tree of so many checks in a row, with more ways than a number of 2,000 digits can say."""
    head = TREE.partition("causes:")[0].replace("\nid: lamp-does-not-light", "\nid: hostile").replace("LMP", "HST")
    chain = "".join(CHECK.format(at=at, next=at + 1, after=min(at + 2, steps)) for at in range(steps - 1))
    chain += CHECK.format(at=steps - 1, next=steps, after="-other")
    head += "otherwise:\n  unable: out-of-use\ncauses:\n  worn:\n    is: Worn\n"
    too = '  s-other:\n    end: see document\n    data: {LAMP-01: "2"}\n    for: [worn]\n'
    return f"{head}start: s0\nsteps:\n{chain}{too}{FIX.format(at=steps)}{LAST}"


def _with_symptom(text: str) -> str:
    """The sample's tree with a text as its symptom, in double quotes with escapes."""
    escaped = "".join(
        character if character.isascii() and character.isprintable() and character not in '"\\' else _escape(character)
        for character in text
    )
    return TREE.replace("The lamp does not light", f'"{escaped}"', 1)


def _escape(character: str) -> str:
    return f"\\U{ord(character):08x}"


contents: dict[str, bytes] = {
    "empty": b"",
    "blank lines": b"\n\n   \n",
    "comment only": b"# nothing here",
    "byte order mark": b"\xef\xbb\xbf",
    "byte order mark and tree": b"\xef\xbb\xbf" + TREE.encode(),
    "utf-16": TREE.encode("utf-16"),
    "utf-32": TREE.encode("utf-32"),
    "latin-1": TREE.replace("lamp", "l\xe4mp").encode("latin-1"),
    "nul": TREE.replace("lamp", "la\0mp").encode(),
    "windows lines": TREE.replace("\n", "\r\n").encode(),
    "old mac lines": TREE.replace("\n", "\r").encode(),
    "tabs": TREE.replace("  ", "\t").encode(),
    "escape bytes": TREE.replace("lamp", "\x1b[31mlamp\x9b2J").encode(),
    "one line of a megabyte": b"symptom: " + b"x" * 1_000_000,
    "one key of a megabyte": b"x" * 1_000_000 + b": y",
    "over the limit": TREE.encode() + b"#" * 1_100_000,
    "100,000 brackets": b"[" * 100_000,
    "100,000 closed brackets": b"[" * 100_000 + b"]" * 100_000,
    "100,000 braces": b"{a: " * 100_000,
    "100,000 dashes": b"- " * 100_000,
    "deep blocks": "\n".join(" " * at + "a:" for at in range(1200)).encode(),
    "many items": b"a:\n" + b"- x\n" * 20_000,
    "many keys": b"".join(b"k%d: v\n" % at for at in range(3_000)),
    "one key again and again": b"k: v\n" * 3_000,
    "aliases": b"a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\nd: [*c, *c]\n",
    "alias of itself": b"a: &a [*a]\n",
    "merge key": b"a: &a {x: 1}\nb:\n  <<: *a\n",
    "tags": b"a: !!python/object/apply:os.system [ls]\nb: !!binary x\nc: !x y\n",
    "two documents": TREE.encode() + b"\n---\n" + TREE.encode(),
    "directive": b"%YAML 1.1\n---\n" + TREE.encode(),
    "list at the top": b"- a\n- b\n",
    "text at the top": b"just words",
    "keys that are no text": b"? [a, b]\n: c\n1: 2\ntrue: x\nnull: y\n",
    "huge number": TREE.replace("minutes: 1\n", "minutes: " + "9" * 5000 + "\n").encode(),
    "minutes that are no number": TREE.replace("minutes: 1\n", "minutes: .nan\n").encode(),
    "revision without end": TREE.replace("revision: 2", "revision: .inf").encode(),
    "date that is none": TREE.replace("2026-11-20", "2024-13-45").encode(),
    "bad escape": b'a: "\\q"\n',
    "quote without end": b'a: "x\nb: y\n',
    "circle of one": TREE.replace("Lights: volts", "Lights: spare-cell").encode(),
    "ids that differ by case": TREE.replace("  switch:", "  Volts:").replace(": switch", ": Volts").encode(),
    "10,000 steps": _long_tree(10_000).encode(),
    "only a header": TREE.partition("causes:")[0].encode(),
    "half of it": TREE.encode()[: len(TREE) // 2],
    "random bytes": random.Random(7).randbytes(4000),
    "random text": "".join(random.Random(8).choices("{}[]:,-?&*!|>'\"%@`#\n a1", k=4000)).encode(),
    **{f"symptom: {name}": _with_symptom(text).encode() for name, text in texts.items()},
}  # fmt: skip


def strange_entries(folder: Path) -> None:
    """Entries of a folder that are no plain files, or that lead elsewhere."""
    (folder / "folder.yaml").mkdir()
    (folder / "dangling.yaml").symlink_to(folder / "nowhere.yaml")
    (folder / "outside.yaml").symlink_to("/etc/passwd")
    (folder / "itself.yaml").symlink_to("itself.yaml")
    (folder / "round").symlink_to(folder, target_is_directory=True)
    (folder / ".hidden.yaml").write_bytes(TREE.encode())
    (folder / "no suffix").write_bytes(TREE.encode())
    (folder / "esc\x1b[2J\nname.yaml").write_bytes(TREE.encode())
    (folder / "turned\u202e.yaml").write_bytes(TREE.encode())
    os.mkfifo(folder / "pipe.yaml")
    with open(os.fsencode(folder) + b"/bytes\xff.yaml", "wb") as file:
        file.write(TREE.encode())
