"""A piece of work in a child process whose Nth call to the system kills it, or fails as on a full disk."""

import errno
import os
from collections.abc import Callable
from typing import Any

CALLS = (
    "open",
    "write",
    "fsync",
    "close",
    "replace",
    "stat",
    "fstat",
    "read",
    "fchmod",
    "lstat",
    "unlink",
    "ftruncate",
)
EXITS = {"done": 0, "refused": 3, "killed": 9, "broken": 1}


def counted(act: Callable[[str], Any], turn: int) -> dict[str, Callable[..., Any]]:
    """The calls to the system, of which number `turn` first does what `act` says; a write has written half by then."""
    count = 0

    def wrapped(name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*given: Any, **named: Any) -> Any:
            nonlocal count
            count += 1
            if count - 1 == turn:
                if name == "close":
                    real(*given)
                if name == "write":
                    real(given[0], bytes(given[1])[: len(given[1]) // 2])
                act(name)
            return real(*given, **named)

        return call

    return {name: wrapped(name, getattr(os, name)) for name in CALLS}


def struck(act: Callable[[], object], turn: int, how: str, refusals: tuple[type[Exception], ...]) -> str:
    """How the work ended in a child that is `killed` at that call, or in which that call `fails`: one of `EXITS`."""

    def hit(name: str) -> None:
        if how == "killed":
            os._exit(EXITS["killed"])
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    child = os.fork()
    if child == 0:
        code = EXITS["broken"]
        try:
            for name, call in counted(hit, turn).items():
                setattr(os, name, call)
            act()
            code = EXITS["done"]
        except refusals:
            code = EXITS["refused"]
        finally:
            os._exit(code)
    _, status = os.waitpid(child, 0)
    code = os.waitstatus_to_exitcode(status)
    return next((word for word, number in EXITS.items() if number == code), f"code {code}")
