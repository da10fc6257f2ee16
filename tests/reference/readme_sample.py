"""The sample of output in the README, cut from a real run; `python -m reference.readme_sample` in tests/ writes it."""

import re
from datetime import date
from pathlib import Path

from planner.commands.check import page
from planner.plan.flagging import flags
from planner.plan.opening import open_project

README = Path(__file__).parents[2] / "README.md"
PROJECT = "projects/county-road-4x4.toml"
SHOWN = ("brakes.barrel_near_brake",)
TODAY = date(2026, 11, 25)
BLOCK = re.compile(rf"(<!-- sample of: planner check {re.escape(PROJECT)} -->\n```text\n).*?(\n```)", re.DOTALL)


def sample() -> str:
    """The head of the report, the flag of one rule, and the last line; dots stand for what is left out."""
    opened = open_project(README.parent / PROJECT, today=TODAY)
    head, *blocks, last = "\n".join(page(opened, flags(opened))).split("\n\n")
    picked = [next(block for block in blocks if f" {rule};" in block) for rule in SHOWN]
    return "\n\n".join([head, blocks[0], *(part for block in picked for part in ("...", block)), "...", last])


def written() -> str:
    """The sample as the README has it."""
    found = BLOCK.search(README.read_text(encoding="utf-8"))
    return found[0].removeprefix(found[1]).removesuffix(found[2]) if found else ""


if __name__ == "__main__":
    text = README.read_text(encoding="utf-8")
    README.write_text(BLOCK.sub(lambda found: found[1] + sample() + found[2], text), encoding="utf-8")
