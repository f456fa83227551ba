"""The page that describes the format, made from the schemas so that the two cannot differ.

One section a kind of file, one table a mapping. What a table says of a key is the schema's title, description and
example; the introduction says what no single key can say.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any, NamedTuple

from faulttree.load.explain_source import EACH_MODEL, in_one_line
from faulttree.load.schema import KINDS, TREE, schema_text

Schema = dict[str, Any]

INTRODUCTION = """\
# The format

This page is made from the schemas by `python -m faulttree.docs`; a test compares the two.

A library is a folder with `library.yaml`, files of shared entries, and one YAML file for each tree. A tree is about
one symptom: what can be wrong, what each cause would show, and the steps from the symptom to a confirmed corrective
action. Every file begins with `faulttree: 1`, the version of the format.

## What holds everywhere

**Typed by schema, not by look.** Where a text is wanted, the characters as written are the text: `4.10`, `0123`, `yes`
and `12:30` need no quotes. Where a number or true/false is wanted, it is written without quotes, in the forms of
YAML 1.2: `2`, `0.5`, `true`. Nothing may be empty: leave the key out instead.

**Sentences stand one a line.** What holds sentences is one text, or a list with one sentence a line, each after `- `. A
sentence with a comma never stands in `[..]` or `{..}`, because YAML would split it there. A text with a colon and a
blank needs quotes. No markup is interpreted. A blank to be filled in is written `___`.

**Blanks of an entry.** In `found`, `did`, `proved` and `report` stands what follows from a finding, a ticked line or an
answer; everything else is a blank. What it is chosen from stands behind it, `___ (broken / whole)`, or a hint, `___
(place)`. What the walk recorded fills it where no doubt is left: a reading before its limit's unit; a finding where its
label is one of the choices; both only behind words of what was looked at. The model stands behind *model*; why the way
came to its end behind *reason* or *because*; whether somebody was on it behind words of the occupant's question, where
the choice is `(yes / no)`. The rest is marked INCOMPLETE, and can be filled in by hand at the end of a walk.

**Names.** A name is what a key calls an entry: letters, digits, dots, hyphens and underscores, at most 40. The names of
steps and causes are in lower case. A reference is written as the same name. The order of entries is kept and means
something: the first role is the one that a walk starts with, urgencies go from the most urgent on, models are
counted in read-back codes.

**Findings.** A finding's label has at most 24 characters and none of `, : ; # [ ] { }`. A check has at most nine.

**Models.** Where a table says *each model*, the value may be one for all models, or a mapping from the name of each
model to its value. Such a mapping names every model that its owner has. Model names begin with a capital letter.

**Occupant.** Where `library.yaml` has `occupant`, somebody may be on the equipment while it fails, such as a patient. A
step is then shown only after the occupant is off, unless it says `occupied: allowed`.

**Open items.** `opens` and `closes` name entries of `open_items` in `library.yaml`: things left in a state that must
not be forgotten. They stay in sight on every screen until something closes them. What a step opens counts once its
gates are passed, an end's too. What a fix closes: a disturbance once its work is done, a hazard and a duty only once
its operational check has passed.

**Your own keys.** A key that begins with `x-` is yours: nothing reads it. Names of entries and labels are no such keys.

**Editors.** An editor with a YAML language server explains and checks a file while it is written, if its first line
names the schema by its place seen from the file, such as `# yaml-language-server: $schema=schemas/tree.schema.json`.
`faulttree new` writes that line, and the schemas into the folder `schemas` of the library; `faulttree schema -o DIR`
writes them into any other.
"""

_HOLDS = {
    "text": "text",
    "texts": "sentences",
    "name": "name",
    "names": "list of names",
    "stepName": "name of a step",
    "causeName": "name of a cause",
    "causeNames": "list of causes",
    "modelName": "name of a model",
    "modelNames": "list of models",
    "label": "finding",
    "labels": "finding, or list of findings",
    "date": "date",
    "data": "mapping from document to section",
    "findings": "mapping from finding to name of a step (*each model*) or to [finding at length]"
    "(#tree-finding-at-length), or list of findings",
    "againFindings": "mapping from finding to name of a step (*each model*) or to [finding of a step again]"
    "(#tree-finding-of-a-step-again)",
    "route": "name of a step, or a mapping with `to` and `why`",
}
"""Words for definitions that many keys share; the others are described by what they are made of."""

_HEADER = "| key | required | holds | meaning | example |\n| --- | --- | --- | --- | --- |\n"


class Page(NamedTuple):
    """One schema, for which the page is made."""

    schema: Schema

    def chain(self, schema: Schema) -> Iterator[tuple[str, Schema]]:
        """A schema and what it refers to, step by step, each with the name that it was referred to by."""
        name = ""
        yield name, schema
        while "$ref" in schema:
            name = schema["$ref"].rpartition("/")[2]
            schema = self.schema["definitions"][name]
            yield name, schema

    def resolved(self, schema: Schema) -> Schema:
        """What a schema refers to in the end."""
        return list(self.chain(schema))[-1][1]

    def said(self, schema: Schema, word: str) -> Any:
        """The nearest title, description or list of examples on the way to what a schema refers to."""
        return next(each[word] for _, each in self.chain(schema) if word in each)

    def holds(self, schema: Schema) -> str:
        """What a value is, in words."""
        known = next((_HOLDS[name] for name, _ in self.chain(schema) if name in _HOLDS), "")
        found = self.resolved(schema)
        choices = found.get("oneOf") or found.get("anyOf")
        if known or not choices:
            return known or self._plain(found)
        usual = [choice for choice in choices if self.resolved(choice).get("title") != EACH_MODEL]
        words = list(dict.fromkeys(self.holds(choice) for choice in usual))
        return ", or ".join(words) + ("" if len(usual) == len(choices) else "; *each model*")

    def _plain(self, found: Schema) -> str:
        if "const" in found:
            return f"`{found['const']}`"
        kind = found.get("type", "object")
        if kind == "array":
            inner = self.holds(found["items"])
            return f"list of {inner}{'s' if inner in ('text', 'number', 'finding') else ''}"
        if kind != "object":
            words = {"number": "number", "integer": "whole number", "boolean": "true or false"}
            return words.get(str(kind), "text") + _bounds(found)
        values = _inner(found)
        return f"mapping from name to {self.holds(values)}" if values is not None else self._links(found)

    def _links(self, found: Schema) -> str:
        titles = [title_of(mapping) for mapping in self.mappings(found)]
        return " or ".join(f"[{title}](#{self.anchor(title)})" for title in titles)

    def mappings(self, schema: Schema) -> list[Schema]:
        """The mappings with fixed keys that a value may be; steps, ends and notices are of several kinds."""
        found = self.resolved(schema)
        if "properties" in found:
            return [found]
        parts = [found[key] for key in ("then", "else") if key in found] + found.get("anyOf", [])
        every = {title_of(each): each for part in parts for each in self.mappings(part)}
        order = [definition.get("title") for definition in self.schema["definitions"].values()]
        return sorted(every.values(), key=lambda each: order.index(each["title"]))

    def anchor(self, title: str) -> str:
        """The address of a mapping's table on the page."""
        return f"{self.schema['title']}-{title}".lower().replace(" ", "-")

    def tables(self) -> Iterator[str]:
        """The tables: that of the file, then those of the mappings in it, each below the table that names it."""
        waiting, seen = [self.schema], {self.schema["title"]}
        while waiting:
            mapping = waiting.pop(0)
            yield self._table(mapping)
            below = [each for value in mapping["properties"].values() for each in self._below(value)]
            fresh = {title_of(each): each for each in below if title_of(each) not in seen}
            waiting = [*fresh.values(), *waiting]
            seen.update(fresh)

    def _below(self, schema: Schema) -> Iterator[Schema]:
        """The mappings with fixed keys in a value."""
        found = self.resolved(schema)
        if "properties" in found or "then" in found:
            yield from self.mappings(found)
            return
        for part in [*found.get("anyOf", ()), _inner(found), found.get("items")]:
            if part is not None:
                yield from self._below(part)

    def _table(self, mapping: Schema) -> str:
        title, is_file = title_of(mapping), mapping is self.schema
        head = "" if is_file else f'<a id="{self.anchor(title)}"></a>\n\n### {title[0].upper()}{title[1:]}\n\n'
        rows = "".join(self._row(key, value, mapping["required"]) for key, value in mapping["properties"].items())
        about = f"{mapping['description']}\n\n" if "description" in mapping else ""
        return f"{head}{about}{_HEADER}{rows}"

    def _row(self, key: str, schema: Schema, required: list[str]) -> str:
        choices = self.resolved(schema).get("oneOf", ())
        words = "".join(f" `{choice['const']}`: {choice['description']}." for choice in choices)
        example = next(filter(None, map(in_one_line, self.said(schema, "examples"))), "")
        cells = [
            f"`{key}`",
            "yes" if key in required else "",
            self.holds(schema),
            self.said(schema, "description") + words,
            f"`{example}`" if example else "",
        ]
        return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |\n"


def title_of(schema: Schema) -> str:
    """What a mapping is called."""
    return str(schema.get("title") or schema["$comment"])


def _inner(found: Schema) -> Any:
    """The schema of the values of a mapping whose keys are names, or None."""
    if "properties" in found:
        return None
    values = [*found.get("patternProperties", {}).values(), found.get("additionalProperties")]
    return next((value for value in values if isinstance(value, dict)), None)


def _bounds(found: Schema) -> str:
    words = {"minimum": "at least", "exclusiveMinimum": "above", "maximum": "at most", "exclusiveMaximum": "below"}
    return "".join(f", {word} {found[key]}" for key, word in words.items() if key in found)


def format_page() -> str:
    """The page, as Markdown."""
    return INTRODUCTION + "".join(map(_section, KINDS))


def _section(kind: str) -> str:
    page = Page(json.loads(schema_text(kind)))
    name = "NAME.yaml" if kind == TREE else f"{kind}.yaml"
    return f"\n## {name}: {page.schema['title']}\n\n" + "\n".join(page.tables())
