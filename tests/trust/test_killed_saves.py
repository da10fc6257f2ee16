"""A few of the thousand points at which `kill_saves.py` kills the program through a save."""

from pathlib import Path

import pytest
from trust.kill_saves import ACTS, run


def test_wherever_a_change_is_killed_the_project_is_whole_and_its_diary_agrees(tmp_path: Path) -> None:
    told: list[str] = []
    assert run(4, tmp_path, told.append, ACTS[:1]) == 0, "\n".join(told)


@pytest.mark.slow
def test_wherever_the_program_is_killed_the_project_is_whole_and_its_diary_agrees(tmp_path: Path) -> None:
    told: list[str] = []
    assert run(32, tmp_path, told.append) == 0, "\n".join(told)
