"""A value as a person types it for a key, made what the file's text wants there: text, number, date, list or table."""

import re
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any, get_args, get_origin

from planner.plan.keys import Wants
from planner.project.changes import DELETE
from planner.project.faults import Faulty, plain
from planner.project.source import parse

_WHOLE = re.compile(r"[+-]?\d{1,18}")
_NUMBER = re.compile(r"[+-]?\d{1,18}(?:\.\d{1,18})?")
_DATE = re.compile(r"\d{4}-\d\d-\d\d")
_YES_NO = {"yes": True, "true": True, "no": False, "false": False}
_APART = re.compile(r"\s*;\s*|\s*,\s+")  # 1,200 is one number
_COMMAS = re.compile(r"\s*,\s*")


class Misgiven(ValueError):
    """A value that cannot even be written in the file; the message is one plain line."""


def as_data(written: str, wants: Wants, standing: Any) -> Any:
    """The value as plain TOML data, `DELETE` for an empty one; raises `Misgiven`.

    Whether it is a good value is left to those who read the file: what does not look like the number or date that is
    wanted stays the text that it is, and they say what is accepted.
    """
    text = written.strip()
    if not text:
        return DELETE
    table = wants.model is not None or get_origin(wants.type) is dict
    inner = wants.inner
    if table or (inner is not None and inner.model is not None):
        return _table(text, list if not table else dict)
    if get_origin(wants.type) in (list, tuple) or wants.inner is not None:
        return _list(text, wants, standing)
    return _single(text, wants, standing)


def _single(text: str, wants: Wants, standing: Any) -> Any:
    number = isinstance(standing, (int, float)) and not isinstance(standing, bool)
    free = wants.type is object and wants.kind is None and not isinstance(standing, str)
    if wants.type is bool or isinstance(standing, bool):
        return _YES_NO.get(text.lower(), text)
    if wants.type is date and _DATE.fullmatch(text):
        try:
            return date.fromisoformat(text)
        except ValueError:
            return text
    counted = wants.type in (int, float, Decimal) or (wants.kind is not None and wants.kind.form == "count")
    if counted or free or number:
        if _WHOLE.fullmatch(text):
            return int(text)
        if _NUMBER.fullmatch(text) and (wants.kind is None or wants.kind.form != "count"):
            return float(text)
    return text


def _list(text: str, wants: Wants, standing: Any) -> Any:
    """A list in brackets as TOML has it, or its elements with commas between; one text where the file has one."""
    if text.startswith("["):
        return _toml(text, list, 'a list such as ["a", "b"]')
    if wants.kind is not None and not isinstance(standing, list):
        return text
    if wants.kind is not None:
        return _COMMAS.split(text) if wants.kind.form == "ratios" else [_COMMAS.split(one) for one in text.split(";")]
    elements = get_args(wants.type)
    return (_APART if get_origin(wants.type) is tuple else _COMMAS).split(text) if elements else text


def _table(text: str, of: type) -> Any:
    if of is dict:
        return _toml(text, dict, 'one of its entries, or a whole table such as { title = "jack", price = 80 }')
    return _toml(text, list, 'one of its entries, or a whole list such as [{ title = "jack" }]')


def _toml(text: str, of: type, accepted: str) -> Any:
    try:
        data = parse(Path("value"), f"value = {text}".encode()).data
    except (Faulty, UnicodeEncodeError):
        data = {}
    if data.keys() != {"value"} or not isinstance(data["value"], of):
        raise Misgiven(f"read '{plain(text)}'; accepted: {accepted}")
    return data["value"]
