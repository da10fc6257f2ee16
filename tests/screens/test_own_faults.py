"""A fault of our own ends the program in one plain line; what a person can mend is told, and it goes on."""

import asyncio

import pytest
from screens_visit import copied, sit, visit
from textual.worker import WorkerFailed

from planner.project.saving import NotSaved
from planner.screens.app.app import OUR_FAULT


def broken(_):
    raise KeyError("\x1b[31mred")


def ended(monkeypatch, path, begin):
    """What the program says in the end where it comes to a fault of our own."""
    monkeypatch.delenv("PLANNER_TRACEBACK")
    told = []

    async def story():
        async with visit(path) as here:
            monkeypatch.setattr(here.app, "panic", lambda text: told.append(str(text)))
            begin(here.app)
            await here.pilot.pause(0.3)
            assert here.app.return_code == OUR_FAULT

    with pytest.raises((KeyError, WorkerFailed)):  # the pilot raises it again, for tests
        sit(story())
    assert len(told) == 1 and "a bug in the planner (KeyError: " in told[0]
    assert "\x1b" not in told[0] and "\n" not in told[0]
    return told[0]


def nobody_waits(app):
    """The job goes on when who asked for it is gone, as when a newer key came."""

    async def asked():
        await app.run_job("trying", broken)

    task = asyncio.create_task(asked())
    asyncio.get_running_loop().call_soon(lambda: asyncio.get_running_loop().call_soon(task.cancel))


@pytest.mark.parametrize(
    "begin", [lambda app: app.start_job("trying", broken), nobody_waits], ids=["asked", "nobody waits"]
)
def test_a_job_that_fails_ends_the_program_in_one_line_and_the_project_stays_as_it_was(tmp_path, monkeypatch, begin):
    path = copied(tmp_path, "just-begun")
    before = path.read_bytes()
    assert "what you were typing is offered next time" in ended(monkeypatch, path, begin)
    assert path.read_bytes() == before


def test_what_a_person_can_mend_is_told_and_the_program_goes_on(tmp_path):
    path = copied(tmp_path, "just-begun")

    def refuses(state):
        raise NotSaved(path, "the disk is full")

    async def story():
        async with visit(path) as here:
            state = here.app.state
            assert "the disk is full" in await here.app.run_job("trying", refuses)
            assert here.app.state is state and not here.app.busy

    sit(story())


def test_a_fault_in_the_program_itself_ends_it_in_one_line(tmp_path, monkeypatch):
    ended(monkeypatch, copied(tmp_path, "just-begun"), lambda app: app.call_later(broken, None))
