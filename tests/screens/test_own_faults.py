"""A fault of our own: the program stands where it can, and ends in one plain line where it cannot."""

import pytest
from screens_visit import copied, sit, visit

from planner.screens.app.app import OUR_FAULT


def broken(_):
    raise KeyError("\x1b[31mred")


def test_a_job_that_fails_is_told_and_the_project_stays_as_it_was(tmp_path, monkeypatch):
    monkeypatch.delenv("PLANNER_TRACEBACK")
    path = copied(tmp_path, "just-begun")
    before = path.read_bytes()

    async def story():
        async with visit(path) as here:
            state = here.app.state
            trouble = await here.app.run_job("trying", broken)
            assert trouble.startswith("a fault of our own (KeyError:")
            assert here.app.state is state and not here.app.busy

    sit(story())
    assert path.read_bytes() == before


def test_a_fault_in_the_program_itself_ends_it_in_one_line(tmp_path, monkeypatch):
    monkeypatch.delenv("PLANNER_TRACEBACK")
    path = copied(tmp_path, "just-begun")
    told = []

    async def story():
        async with visit(path) as here:
            monkeypatch.setattr(here.app, "panic", lambda text: told.append(str(text)))
            here.app.call_later(broken, None)
            await here.pilot.pause(0.2)
            assert here.app.return_code == OUR_FAULT

    with pytest.raises(KeyError):  # the pilot raises it again, for tests
        sit(story())
    assert len(told) == 1 and "fault of our own" in told[0] and "\x1b" not in told[0] and "\n" not in told[0]
