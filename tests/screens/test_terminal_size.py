"""Room: a window too small says so and comes back by itself; columns are as wide as what stands in them."""

from screens_visit import copied, sit, visit

from planner.screens.widgets.columns import ListRow, columns, heading, line


def test_a_window_that_is_too_small_says_so_until_it_is_larger(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            await here.go("wheel")
            await here.pilot.resize_terminal(50, 12)
            await here.settle()
            assert "too small: 50 × 12" in here.screen
            await here.pilot.resize_terminal(80, 24)
            await here.settle()
            assert "WHEEL SPEC" in here.screen
            assert here.app.focused.id == "rows"

    sit(story())


def test_the_footer_and_the_summary_are_in_sight_at_every_place(tmp_path):
    path = copied(tmp_path)

    async def story():
        async with visit(path) as here:
            for name in ("overview", "vehicle", "axles", "measurements", "tires", "wheel", "fit", "gearing", "brakes"):
                await here.go(name)
                assert "f1 help" in here.screen.splitlines()[-1]
                assert "cautions" in here.screen.splitlines()[1]

    sit(story())


def test_a_long_text_is_folded_beside_its_mark():
    rows = [heading("flags"), ListRow("one two three four five six", mark="STOP")]
    shown = line(rows[1], columns(rows, 24)[1]).plain.split("\n")
    assert len(shown) > 1
    assert shown[0].startswith("STOP     one")
    assert all(one.startswith(" " * 9) for one in shown[1:])


def test_no_row_is_wider_than_its_list_whatever_is_written_in_it():
    rows = [
        heading("entries"),
        ListRow("a name that is very long indeed", "a value that is as long as that", "and a note", key="a"),
        ListRow("短い", "五と半インチ", "139.7 mm", key="b"),
        ListRow("one", "two", key="c"),
    ]
    for width in (20, 33, 57, 78):
        for row, at in zip(rows, columns(rows, width), strict=True):
            assert all(one.cell_length <= width for one in line(row, at).split("\n"))
