"""A few of the thousand points at which `kill_saves.py` kills the program through a save."""

from pathlib import Path

from trust.kill_saves import run


def test_wherever_the_program_is_killed_the_project_is_whole_and_its_diary_agrees(tmp_path: Path) -> None:
    told: list[str] = []
    assert run(16, tmp_path, told.append) == 0, "\n".join(told)
