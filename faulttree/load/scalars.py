"""Numbers and true or false, in the forms of the core schema of YAML 1.2 and in no other.

The forms are those of the YAML 1.2.2 specification, section 10.3.2. Only plain scalars are read: what stands in
quotes is a text. Infinity and "not a number" are no figures that work can be done by; figures
of more than 18 digits would lose digits on the way through other programs.
"""

from __future__ import annotations

import re

from faulttree.load.nodes import Scalar
from faulttree.load.text import short
from faulttree.problems import ERROR, Problem

MOST_DIGITS = 18

_DECIMAL = re.compile(r"[-+]?[0-9]+")
_OCTAL = re.compile(r"0o[0-7]+")
_HEXADECIMAL = re.compile(r"0x[0-9a-fA-F]+")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")
_NO_FIGURE = re.compile(r"[-+]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)")
_TRUE = ("true", "True", "TRUE")
_FALSE = ("false", "False", "FALSE")


def read_number(node: Scalar) -> int | float | None:
    """The number that a plain scalar stands for, or None; ``number_problem`` says why it is none."""
    text = node.value
    if not node.plain:
        return None
    if len(text) <= MOST_DIGITS and text.isascii() and text.isdigit():
        return int(text)
    if _DECIMAL.fullmatch(text):
        return _decimal(text)
    if _FLOAT.fullmatch(text):
        return _float(text)
    if _OCTAL.fullmatch(text) or _HEXADECIMAL.fullmatch(text):
        return _based(text)
    return None


def _decimal(text: str) -> int | None:
    value = int(text.lstrip("+-0") or "0") if _few_digits(text) else None
    return -value if value and text[0] == "-" else value


def _few_digits(text: str) -> bool:
    return sum(map(str.isdigit, text.lstrip("+-0"))) <= MOST_DIGITS


def _float(text: str) -> float | None:
    """The value; None where digits are too many or the exponent leads out of the range of a double."""
    mantissa = re.split("[eE]", text)[0]
    value = float(text)
    vanished = value == 0 and any(digit in mantissa for digit in "123456789")
    return None if vanished or abs(value) == float("inf") or not _few_digits(mantissa) else value


def _based(text: str) -> int | None:
    digits = text[2:].lstrip("0") or "0"
    value = int(digits, 8 if text[1] == "o" else 16) if len(digits) <= 2 * MOST_DIGITS else 10**MOST_DIGITS
    return value if value < 10**MOST_DIGITS else None


def read_bool(node: Scalar) -> bool | None:
    """The truth value that a plain scalar stands for, or None; ``bool_problem`` says why it is none."""
    if not node.plain:
        return None
    return True if node.value in _TRUE else False if node.value in _FALSE else None


def number_problem(node: Scalar, file: str) -> Problem:
    """Why ``node`` is no number and what to write instead."""
    text = node.value
    if _NO_FIGURE.fullmatch(text) and node.plain:
        message, advice = f'"{text}" is no figure', "write a number, or leave the key out"
    elif not node.plain and read_number(Scalar(text, node.span, True)) is not None:
        message, advice = f'"{text}" is a text because of its quotes', "write the number without quotes"
    elif any(form.fullmatch(text) for form in (_DECIMAL, _FLOAT, _OCTAL, _HEXADECIMAL)):
        message = f'the number "{short(text)}" has more than {MOST_DIGITS} digits or too large an exponent'
        advice = "write it with fewer digits"
    else:
        message, advice = f'"{short(text)}" is not a number', 'write digits, with a point for decimals, such as "0.5"'
    return Problem("value-not-number", ERROR, message, advice, file, node.span)


def bool_problem(node: Scalar, file: str) -> Problem:
    """Why ``node`` is neither true nor false and what to write instead."""
    text = node.value
    if not node.plain and text in _TRUE + _FALSE:
        message, advice = f'"{text}" is a text because of its quotes', f"write {text} without quotes"
    else:
        message, advice = f'"{short(text)}" is neither true nor false', 'write "true" or "false"'
    return Problem("value-not-true-false", ERROR, message, advice, file, node.span)
