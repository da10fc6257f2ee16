"""A list of rows: how it is set, and what it does at a key."""

import asyncio

from screens_visit import copied, sit, visit
from textual import events
from textual.app import App, ComposeResult
from textual.screen import Screen
from textual.widgets import Input

from planner.screens.widgets.box import TextBox
from planner.screens.widgets.columns import ListRow, columns, line
from planner.screens.widgets.row_list import RowList

ROWS = [
    ListRow("front: the wheel gets too close before it reaches its steering stop", mark="STOP"),
    ListRow("rear: the rail", mark="STOP"),
]


class Listing(App[None]):
    """A list that is filled before anybody knows how wide it will be."""

    def __init__(self) -> None:
        super().__init__()
        self.pointed: list[ListRow] = []

    def compose(self) -> ComposeResult:
        yield RowList(self.pointed.append, id="rows")
        yield TextBox(id="box")

    def on_mount(self) -> None:
        self.query_one(RowList).fill(ROWS)
        self.heights = [str(one.prompt).count("\n") for one in self.query_one(RowList).options]


def listing(look):
    async def go() -> None:
        app = Listing()
        async with app.run_test(size=(80, 24)) as pilot:
            await look(app, pilot)

    asyncio.run(go())


def test_a_list_that_is_not_in_sight_yet_is_set_for_the_width_of_the_window() -> None:
    async def look(app, pilot) -> None:
        assert app.heights == [0, 0]

    listing(look)


def test_what_the_cursor_moves_to_is_told_before_the_key_is_done() -> None:
    async def look(app, pilot) -> None:
        assert app.pointed[-1] == ROWS[0]
        app.query_one(RowList).action_cursor_down()
        assert app.pointed[-1] == ROWS[1]

    listing(look)


def test_a_list_set_for_its_width_is_not_set_again_when_only_its_height_changes(monkeypatch) -> None:
    async def look(app, pilot) -> None:
        again: list[int] = []
        monkeypatch.setattr(RowList, "_lay_out", lambda self: again.append(1))
        await pilot.resize_terminal(80, 18)
        await pilot.pause()
        assert not again
        await pilot.resize_terminal(60, 18)
        await pilot.pause()
        assert again

    listing(look)


def layouts(screen: Screen[object]) -> list[Screen[object]]:
    """Grows each time that the screen is laid out."""
    laid: list[Screen[object]] = []
    screen.screen_layout_refresh_signal.subscribe(screen, laid.append, immediate=True)
    return laid


def test_a_key_in_a_field_does_not_lay_the_screen_out_anew(tmp_path) -> None:
    async def look() -> None:
        async with visit(copied(tmp_path)) as here:
            await here.go("vehicle")
            here.point_at("wheelbase")
            await here.press("enter")
            await here.settle()
            laid = layouts(here.app.screen)
            here.app.post_message(events.Key("7", "7"))
            await asyncio.sleep(0.1)
            assert here.app.screen.query_one("#value", Input).value.endswith("7")
            assert not laid

    sit(look())


def test_a_key_in_a_list_lays_nothing_out(tmp_path) -> None:
    async def look() -> None:
        async with visit(copied(tmp_path)) as here:
            await here.go("vehicle")
            before = here.point_at("units")
            await here.settle()
            laid = layouts(here.app.screen)
            here.app.post_message(events.Key("down", None))
            await asyncio.sleep(0.3)
            assert here.app.screen.query_one(RowList).current != before
            assert not laid

    sit(look())


def test_what_a_note_that_is_left_out_leaves_goes_to_the_name() -> None:
    nuts = ListRow("twelve cone nuts 9/16-18 left-hand", "keep 5.22 in both axles", "on 10 Aug", mark="arrived")
    (at,) = columns([nuts], 68)
    # 23 cells of value end at the edge: 45 are left for mark, name and gap, and 37 would be its share
    assert (at.value, at.note) == (45, 68)
    assert "9/16-18 left-h" in line(nuts, at).plain and line(nuts, at).plain.endswith("both axles")
