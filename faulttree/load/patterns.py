"""The patterns of names and labels; each takes a whole text or not."""

from __future__ import annotations

import re

NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,39}").fullmatch
STEP = re.compile(r"[a-z0-9][a-z0-9-]{0,39}").fullmatch
MODEL = re.compile(r"[A-Z][A-Za-z0-9-]{0,39}").fullmatch
LABEL = re.compile(r"[^,:#\[\]{};\s]([^,:#\[\]{};\n]{0,22}[^,:#\[\]{};\s])?").fullmatch
SHORT = re.compile(r"[A-HJ-NP-Z]{3}").fullmatch
