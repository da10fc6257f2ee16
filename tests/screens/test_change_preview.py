"""While a change is being tried: how far it is, a newer key ends the older try, and the last answer stays in view."""

import threading
import time

from screens_visit import copied, sit, visit

from planner.plan.fit import run_sweep
from planner.plan.truck.progress import RARELY, NoLongerWanted, step, watched
from planner.plan.work.record_flags import RECORD_RULES
from planner.screens.dialogs.touched import Touched
from planner.screens.widgets.editor import PAUSE
from planner.screens.widgets.entry_form import AGAIN

ORDER = ("stop", "caution", "decision", "task", "part", "sheet", "figure")


def test_a_newer_edit_ends_the_older_sweep_and_the_last_answer_stays_marked(tmp_path, monkeypatch, swept_anew):
    path = copied(tmp_path)
    at_step, go_on = threading.Event(), threading.Event()
    ends = []

    def slowly(done, whole):
        """As the sweep's own step, but it waits where the test wants to look at it."""
        at_step.set()
        go_on.wait(20)
        try:
            step(done, whole)
        except NoLongerWanted:
            ends.append(done)
            raise

    async def story():
        async with visit(path) as here:
            await here.go("vehicle")
            here.app.go_to_entry("fitments.tall.wheel.backspace")
            await here.settle()
            await here.press("enter")
            await here.type("5 1/8 in")
            editor = here.app.screen.query_one("Editor")
            first = list(editor.answer)
            assert first and not any(line.startswith(AGAIN) for line in here.screen.splitlines())
            monkeypatch.setattr(run_sweep, "step", slowly)
            editor.query_one("#value").value = "5 1/4 in"
            for _ in range(500):
                await here.pilot.pause(0.02)
                if at_step.is_set():
                    break
            assert at_step.is_set()
            assert f" {AGAIN} {first[0][:30]}" in here.screen, "the last answer stays in view, marked"
            assert AGAIN in here.screen.splitlines()[0], "the header says that something is being worked out"
            editor.query_one("#value").value = "5 3/8 in"
            await here.pilot.pause(PAUSE + 0.1)
            go_on.set()
            await here.settle()
            assert editor.answer and f" {AGAIN} " not in "\n".join(here.screen.splitlines()[1:])
            await here.press("escape")

    sit(story())
    assert ends == [0], "the older one ended at its very next step"


def test_what_a_change_touches_is_counted_first_and_all_of_it_can_be_opened(tmp_path):
    async def story():
        async with visit(copied(tmp_path)) as here:
            here.app.go_to_entry("fitments.tall.wheel.backspace")
            await here.settle()
            await here.press("enter")
            await here.type("3 1/2 in")
            editor = here.app.screen.query_one("Editor")
            assert editor.answer[0].startswith("touches: ") and "F6 or a click shows everything" in editor.answer[-1]
            trial = editor._prepared[1].tried
            await here.press("f6")
            heads = [row.name for row in here.rows if row.heading]
            up = [one for one in trial.effects.up if one.rule.node not in RECORD_RULES]
            stops = sum(one.rule.severity == "stop" for one in up)
            assert stops and heads[0].endswith("up") and "stop" in heads[0]
            shown = [row.about for row in here.rows if not row.heading]
            assert sum(any(one.flag is flag.now for flag in up) for one in shown) == len(up)
            assert sum(row.name.startswith("figure") or " figure" in row.name for row in here.rows if row.heading) == 2
            records = [one.name for one in (*trial.effects.again, *trial.effects.sheets) if one.record == "decision"]
            names = {one.name for one in shown}
            assert "front: Measure the backspace of every wheel" in names, "a task by its title, and not by its id"
            assert "rear: the moment on the wheel bearings has grown" in names, "what was accepted, not a rule's name"
            assert records and {one.name for one in shown} >= {*records, *(one.title for one in trial.effects.parts)}
            order = [next(at for at, head in enumerate(heads) if word in head) for word in ORDER if word in str(heads)]
            assert order == sorted(order) and len(order) > 3
            await here.press("enter")
            assert "now raised" in here.screen or "now too close" in here.screen
            await here.press("escape")
            here.point_at("poke")
            await here.press("enter")
            assert "formula" in here.screen, "a figure says why it would be what it would be"
            await here.press("escape", "escape")
            assert here.app.focused.id == "value" and editor.text.startswith("3 1/2 in"), (
                "and the field is gone on with"
            )

    sit(story())


def test_a_click_on_what_a_change_touches_opens_it(tmp_path):
    async def story():
        async with visit(copied(tmp_path)) as here:
            here.app.go_to_entry("fitments.tall.wheel.backspace")
            await here.settle()
            await here.press("enter")
            await here.type("5 in")
            await here.pilot.click("#change-preview", offset=(3, 1))
            await here.settle()
            assert isinstance(here.app.screen, Touched)

    sit(story())


def test_whoever_watches_is_told_at_most_some_ten_times_a_second():
    told = []
    began = time.monotonic()
    with watched(lambda done, whole: told.append((done, whole))) as watch:
        watch.run(lambda: [step(at, 3000) or time.sleep(0.0001) for at in range(3000)])
    assert told[0] == (0, 3000)
    assert 1 <= len(told) <= 2 + (time.monotonic() - began) / RARELY


def test_a_sweep_that_nobody_wants_any_more_ends(tmp_path, swept_anew):
    from planner.plan.answers.open_project import open_project

    with watched() as watch:
        watch.drop()
        try:
            watch.run(open_project, copied(tmp_path))
        except NoLongerWanted:
            return
    raise AssertionError("it went on to its end")
