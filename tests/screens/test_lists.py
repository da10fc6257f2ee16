"""A list of rows: how it is set, and what it does at a key."""

import asyncio

import pytest
from screens_visit import NARROW, WIDE, copied, sit, visit
from textual import events
from textual.app import App, ComposeResult
from textual.screen import Screen
from textual.widgets import Input

from planner.screens.widgets.box import TextBox
from planner.screens.widgets.columns import MARK, ListRow, columns, heading, line, lines
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


def test_names_that_are_cut_alike_are_told_apart() -> None:
    rows = [
        ListRow("twelve cone nuts 9/16-18 with washers, left-hand", "91 USD"),
        ListRow("twelve cone nuts 9/16-18 with washers, right-hand", "45.50 USD"),
        ListRow("a driven gear with a very long name that nobody else has", "38 USD"),
    ]
    first, second, third = (one.plain for one in lines(rows, 44))
    assert "…left-hand" in first and "…right-hand" in second
    assert first.startswith("twelve") and "…" in third and "nobody" not in third  # its end is not needed
    wide = [one.plain for one in lines(rows, 120)]
    assert all(row.name in one and "…" not in one for row, one in zip(rows, wide, strict=True))


def test_no_mark_runs_into_what_stands_beside_it() -> None:
    rows = [ListRow("modest", "clear", mark="considered"), ListRow("tall", "close", mark="STOP?")]
    shown = [one.plain for one in lines(rows, 40)]
    assert shown[0].startswith("considered modest")
    assert shown[1].startswith(f"{'STOP?':<11}tall")  # in one column with the other
    assert [one.plain for one in lines(rows[1:], 40)] == [f"{'STOP?':<{MARK}}tall  close"]


TABLE = [
    heading("what is near", "least", "wanted", "where"),
    ListRow("rail", mark="CLOSE?", table=("1.33 in", "1.00 in", "26.0° out, up 5.95 in")),
    ListRow("inner fender, at the step", table=("-0.091 in", "0.750 in", "straight")),
]


def test_figures_of_a_table_stand_at_the_right_of_their_columns_and_words_at_the_left() -> None:
    head, rail, fender = (one.plain for one in lines(TABLE, 79))
    for name, one, other in zip(("least", "wanted"), TABLE[1].table, TABLE[2].table, strict=False):
        end = head.index(name) + len(name)
        assert rail[:end].endswith(f"  {one}") and fender[:end].endswith(f"  {other}")
    start = head.index("where")
    assert rail[start:] == "26.0° out, up 5.95 in" and fender[start:] == "straight"


def test_words_that_end_a_row_of_a_table_are_left_out_before_a_figure_is() -> None:
    for width in range(40, 90):
        shown = [one.plain for one in lines(TABLE, width)]
        assert all(len(one) <= width for one in shown)
        assert all(figure in one for row, one in zip(TABLE, shown, strict=True) for figure in row.table[:2])
    assert "where" not in lines(TABLE, 52)[0].plain
    assert lines(TABLE, 100)[1].plain.endswith("up 5.95 in")


def test_a_figure_at_the_end_of_a_line_is_left_out_where_there_is_no_room_but_of_a_stop() -> None:
    told = "front: the tire sticks out farther than local code allows"
    caution = ListRow(told, mark="CAUTION", tone="warning", end="15.7 mm over")
    stop = caution._replace(mark="STOP", tone="error")
    (roomy,) = lines([caution], 100)
    assert roomy.plain.endswith("15.7 mm over") and roomy.cell_length == 100
    assert "mm" not in lines([caution], 70)[0].plain
    above, below = lines([stop], 70)[0].plain.split("\n")
    assert above.endswith("allows") and below == f"{'15.7 mm over':>70}"


@pytest.mark.parametrize("size", [NARROW, WIDE, (200, 50)], ids=str)
def test_in_no_list_a_mark_or_a_name_runs_into_its_neighbor(tmp_path, size) -> None:
    async def look() -> None:
        async with visit(copied(tmp_path), size) as here:
            for name in ("overview", "fit", "changes", "candidates", "tasks", "parts", "sheets", "diary"):
                await here.go(name)
                row_list = here.app.screen.query_one(RowList)
                for row, shown in zip(row_list.rows, lines(row_list.rows, row_list.size.width - 1), strict=True):
                    first = shown.plain.split("\n")[0]
                    if row.mark.strip():
                        assert first.startswith(f"{row.mark} "), first
                    elif row.value or row.note:
                        assert f"{row.name}  " in first or "…" in first, first

    sit(look())


def test_what_a_wide_window_gives_is_room_beside_and_never_longer_lines(tmp_path) -> None:
    """Between 110 and 160 columns words and picture are below the list, from there on beside it."""

    async def look() -> None:
        for size, beside in ((WIDE, False), ((159, 40), False), ((160, 40), True), ((250, 60), True)):
            async with visit(copied(tmp_path), size) as here:
                for name in ("overview", "wheel", "fit"):
                    await here.go(name)
                    rows, side = (here.app.screen.query_one(one).region for one in ("#rows", "#side"))
                    assert (side.x >= rows.right) if beside else (side.y >= rows.bottom)
                    panel = here.app.screen.query_one("#side-panel-wide")
                    assert max(one.cell_length for one in panel._lines()) <= 84
                    assert panel.region.height >= 9

    sit(look())


def test_beside_several_columns_a_name_is_never_cut() -> None:
    told = "the tire or wheel comes too close to what steers, brakes or carries fuel (drag link, wheel hard left)"
    rows = [ListRow(f"{told} {end}", cells=("clear", "not known", "too close")) for end in ("front", "rear")]
    for width in (58, 78, 98):
        shown = [" ".join(one.plain.split()) for one in lines(rows, width)]
        for row, one in zip(rows, shown, strict=True):
            words = row.name.split()
            assert [word for word in one.split() if word in words] and words[-1] in one
            assert "…" not in one
