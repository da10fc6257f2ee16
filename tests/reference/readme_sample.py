"""The sample in the README, cut from a run of its command; in tests/ `python -m reference.readme_sample` writes it."""

import re
from pathlib import Path

from reference.guide_run import ROOT, Said, anew, at_noon, run

README = Path(__file__).parents[2] / "README.md"
BLOCK = re.compile(r"(<!-- sample of: (planner [^\n]*) -->\n```text\n)(.*?)(\n```)", re.DOTALL)


def quoted() -> tuple[str, str]:
    """The command and its sample, as the README has them."""
    found = BLOCK.search(README.read_text(encoding="utf-8"))
    assert found, "README.md has no sample of a command"
    return found[2], found[3]


def said() -> Said:
    """What that command prints, run where the README says."""
    with at_noon(ROOT):
        return run(quoted()[0])


if __name__ == "__main__":
    text = README.read_text(encoding="utf-8")
    lines = said().lines
    README.write_text(
        BLOCK.sub(lambda found: found[1] + anew(found[3], lines).replace("\n...\n", "\n\n...\n\n") + found[4], text),
        encoding="utf-8",
    )
