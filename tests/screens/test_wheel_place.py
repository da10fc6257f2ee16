"""The wheel's place: of two wheels side by side the pair's own entries and figures are in it, and only there."""

from screens_visit import copied, sit, visit

OF_PAIRS = ("held by", "spacing", "sidewall gap", "diameter difference", "inner valve reached")


def names(here):
    return [row.name for row in here.rows]


def test_the_entries_of_a_pair_stand_after_its_wheel(tmp_path):
    path = copied(tmp_path, "quarry-flatbed")

    async def story():
        async with visit(path) as here:
            await here.go("wheel")
            assert "dual spacing" in names(here)
            assert all(any(name.startswith(one) for name in names(here)) for one in OF_PAIRS)

    sit(story())


def test_a_truck_without_pairs_has_none_of_them(tmp_path):
    path = copied(tmp_path, "forestry-4x4")

    async def story():
        async with visit(path) as here:
            await here.go("wheel")
            assert not [name for name in names(here) if name.startswith(OF_PAIRS) or "dual spacing" in name]

    sit(story())
