"""A plugin of pytest's that notes which tests reach each mutant: in memory alone its place is wrapped in a call.

MUTANT_PROBES names a file with the texts to read in place of modules, MUTANT_FOUND a folder for what was seen.
"""

import builtins
import json
import os
import time
from collections.abc import Iterator
from importlib.machinery import SourceFileLoader
from pathlib import Path
from types import CodeType

import pytest
from trust.mutant_watch import quoted

REACHED = "_reached"
_texts: dict[str, str] = {}
_seen: dict[str, set[str]] = {}
_seconds: dict[str, float] = {}
_running: list[str] = []


def _reached(id_: str) -> None:
    """Called where a mutant's place is evaluated; gives nothing, so that what follows it counts."""
    if _running:
        _seen.setdefault(id_, set()).add(_running[-1])


def _code(self: SourceFileLoader, name: str) -> CodeType | None:
    path = str(self.get_filename(name))
    return compile(_texts[path], path, "exec", dont_inherit=True) if path in _texts else _own_code(self, name)


_own_code = SourceFileLoader.get_code


@pytest.hookimpl(tryfirst=True)
def pytest_load_initial_conftests() -> None:
    """Before any module of ours is read; not where this one is, which is read again in the search for docstrings."""
    _texts.update(json.loads(Path(os.environ["MUTANT_PROBES"]).read_text(encoding="utf-8")))
    SourceFileLoader.get_code = _code  # type: ignore[method-assign, assignment]
    setattr(builtins, REACHED, _reached)


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    tests = [(one.nodeid, one.get_closest_marker("slow") is not None, quoted(one)) for one in items]
    _put("tests", tests)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    _running.append(item.nodeid)
    began = time.process_time()
    try:
        return (yield)
    finally:
        _seconds[item.nodeid] = time.process_time() - began
        _running.pop()


@pytest.hookimpl(tryfirst=True)
def pytest_sessionfinish() -> None:
    """Before the worker says that it is done: after that nobody waits for it."""
    _put("seen", [{id_: sorted(tests) for id_, tests in _seen.items()}, _seconds])


def _put(what: str, data: object) -> None:
    path = Path(os.environ["MUTANT_FOUND"]) / f"{what}-{os.getpid()}.json"
    path.write_text(json.dumps(data), encoding="utf-8")
