"""What is written down during a build and cannot be: each fault by name, with its line and its key."""

import pytest

from planner.project.faults import Faulty
from planner.project.models.ranges import read_range
from planner.project.reading import Opened, raise_faults, read_project
from planner.quantities.kinds import ANGLE, LENGTH, SHARE
from planner.quantities.unreadable import Unreadable

HEAD = """\
format = 2
[fitments.tall]
[plan]
currency = "USD"
"""
GOOD = """
[[readings]]
of = "axles.front.face_to_face"
value = "58 in ± 1/8 in"
by = "owner"
on = 2026-03-14
tool = "tape"
[[readings]]
of = "axles.front.face_to_face"
value = "1473 mm ± 1 mm"
[[readings]]
of = "the old manual, page 12"
[[obstacles]]
name = "spring pack"
side = "left"
[[readings]]
of = "spring pack"
fitment = "tall"
place = "left, full lock"
value = "9 mm"
[which_counts]
"axles.front.face_to_face" = 2
[[wheels]]
mark = "W1"
position = "rear left"
backspace = "4 11/16 in ± 1/64 in"
[[wheels]]
mark = "W2"
position = "rear right inner"
[[wheels]]
mark = "W3"
position = "rear right outer"
[[wheels]]
mark = "W4"
position = "rear left"
state = "sent back"
[[parts]]
id = "wheels"
quantity = 5
ordered = 2026-03-10
promised = 2026-05-01
photos = ["pictures/crate.JPG"]
[parts.as_ordered]
backspace = "4 3/4 in"
[[parts.quotes]]
from = "wheel shop"
price = 285
on = 2026-03-01
taken = true
[[parts.quotes]]
from = "the other one"
price = 240
currency = "USD"
[[parts.payments]]
amount = 400
on = 2026-03-10
[[parts.payments]]
amount = 50
on = 2026-06-01
refund = "yes"
[[plan.stages]]
front = "found"
rear = "tall"
on = 2026-06-01
[wishes]
diameter = "35 to 37 in"
poke = "as large as clears"
order = ["diameter", "poke"]
[[offered]]
from = "tire shop"
kind = "tire"
designation = "37x12.50R17LT"
"""


def read(folder, text: str) -> Opened:
    path = folder / "truck.toml"
    path.write_text(HEAD + text, "utf-8")
    opened = read_project(path)
    raise_faults(opened)
    return opened


def test_what_is_written_down_rightly_is_read(tmp_path):
    opened = read(tmp_path, GOOD)
    assert not opened.notices
    project = opened.project
    assert project.which_counts == {"axles.front.face_to_face": 2}
    assert [one.seller for one in project.parts[0].quotes] == ["wheel shop", "the other one"]
    assert project.wishes.diameter is not None and project.wishes.diameter.high is not None
    assert project.wishes.diameter.high.value == pytest.approx(37 * 0.0254)
    assert project.offered[0].seller == "tire shop"


MOCKED = '[[obstacles]]\nname = "spring pack"\nside = "left"\n[[readings]]\nfitment = "tall"\n'
READING = '[[readings]]\nof = "axles.front.load"\nvalue = "2,700 lb"\n'
WHEEL = '[[wheels]]\nmark = "W1"\nposition = "rear left"\n'
PART = '[[parts]]\nid = "wheels"\nordered = 2026-03-10\n'
PAID = "[[parts.payments]]\namount = {}\non = {}\n"


@pytest.mark.parametrize(
    ("text", "key", "line", "told"),
    [
        ('[[readings]]\nof = "axles.front.lod"\nvalue = "1 lb"', "readings[0].of", 6, "axles.front.lod"),
        ('[[readings]]\nof = "parts[0].price"\nvalue = 3', "readings[0].of", 6, "this entry can't be measured"),
        ('[[readings]]\nvalue = "3 in"', "readings[0].of", 5, "this entry can't be measured"),
        ('[[readings]]\nof = "axles.front.load"\nvalue = "3 in"', "readings[0].value", 7, "this needs a weight"),
        (f'{MOCKED}of = "spring"\nvalue = "1 in"', "readings[0].of", 10, "an obstacle by its name: spring pack"),
        (f'{MOCKED}of = "spring pack"\nvalue = "1 lb"', "readings[0].value", 11, "this needs a length"),
        (f'{MOCKED}of = "spring pack"\nvalue = "1 in"\nside = "right"', "readings[0].side", 12, "where the obstacle"),
        ('[[readings]]\nfitment = "wide"', "readings[0].fitment", 6, "found or tall"),
        (f'{READING}[which_counts]\n"axles.front.load" = 2', 'which_counts."axles.front.load"', 9, "1 to 1"),
        (f'{READING}[which_counts]\n"axles.front.load" = 0', 'which_counts."axles.front.load"', 9, "1, 2 and so on"),
        ('[which_counts]\n"axles.front.load" = 1', 'which_counts."axles.front.load"', 6, "no reading of"),
        ('[which_counts]\n"axles.front.lod" = "worse"', 'which_counts."axles.front.lod"', 6, "in quotes"),
        ('[[wheels]]\nposition = "middle left"', "wheels[0].position", 6, "'front left'"),
        (f"{WHEEL}{WHEEL.replace('W1', 'W2')}", "wheels[1].position", 10, "two wheels are in one place"),
        (
            f"{WHEEL}{WHEEL.replace('W1', 'W2').replace('rear left', 'rear left inner')}",
            "wheels[1].position",
            10,
            "the other is W1 (wheels[0]), rear left",
        ),
        (
            f"{WHEEL}{WHEEL.replace('rear left', 'spare')}",
            "wheels[1].mark",
            9,
            "one wheel in two places, rear left by wheels[0] and spare here",
        ),
        (f'{WHEEL}[[wheels]]\nmark = "w1"', "wheels[1].mark", 9, "two wheels have the same mark"),
        (f'{PART}[[parts.quotes]]\ncurrency = "EUR"', "parts[0].quotes[0].currency", 9, "USD, as plan.currency"),
        (
            f"{PART}[[parts.quotes]]\ntaken = true\n[[parts.quotes]]\ntaken = true",
            "parts[0].quotes[1].taken",
            11,
            "two quotes are marked as taken",
        ),
        (f"{PART}promised = 2026-03-09", "parts[0].promised", 8, "the dates of wheels run backward"),
        (f"{PART}[[parts.quotes]]\ntaken = true\non = 2026-03-11", "parts[0].ordered", 7, "not before quote 1"),
        (
            f"{PART}[[parts.payments]]\non = 2026-03-11\n[[parts.payments]]\non = 2026-03-01\nrefund = true",
            "parts[0].payments[1].on",
            11,
            "not before anything was paid, 2026-03-11",
        ),
        (f"{PART}arrived = 2026-03-09", "parts[0].arrived", 8, "not before it was ordered, 2026-03-10"),
        (f"{PART}{PAID.format(400, '2026-03-09')}", "parts[0].payments[0].on", 10, "not before it was ordered"),
        # Five at 285 are 1,425; 1,000 and 425 are that, and a unit of the smallest coin more is not.
        (
            f"{PART}price = 285\nquantity = 5\n{PAID.format(1000, '2026-03-10')}{PAID.format(425.01, '2026-04-01')}",
            "parts[0].payments[1].amount",
            14,
            "5 × 285 = 1,425 at most",
        ),
        (
            f"{PART}[[parts.quotes]]\nprice = 285\ntaken = true\n{PAID.format(286, '2026-03-10')}",
            "parts[0].payments[0].amount",
            12,
            "you paid more for wheels than it costs",
        ),
        (
            f"{PART}{PAID.format(50, '2026-03-10')}{PAID.format(51, '2026-03-11')}refund = true",
            "parts[0].payments[1].amount",
            12,
            "no more than the 50 you paid",
        ),
        (
            f'{PART}[[wheels]]\nmark = "W1"\nreceived = 2026-03-09',
            "wheels[0].received",
            10,
            "not before wheels were ordered, 2026-03-10",
        ),
        (
            '[[parts]]\nid = "wheels_five"\nordered = 2026-03-10\n[[wheels]]\nmark = "W1"\nreceived = 2026-03-09',
            "wheels[0].received",
            10,
            "the dates of W1 run backward",
        ),
        (f'{PART}photos = ["../../etc/passwd.png"]', "parts[0].photos[0]", 8, "beside this one"),
        (f'{PART}photos = ["/etc/shadow"]', "parts[0].photos[0]", 8, "beside this one"),
        (f'{PART}photos = ["C:\\\\x.jpg"]', "parts[0].photos[0]", 8, "beside this one"),
        (f'{PART}photos = ["hub.jpg: the boss", "../hub.jpg: the boss"]', "parts[0].photos[1]", 8, "beside this one"),
        ('[outline]\nphoto = "side.jpg: the left side"', "outline.photo", 6, "the name of a JPEG or PNG file"),
        ('[[plan.stages]]\nrear = "wide"', "plan.stages[0].rear", 6, "found or tall"),
        ('[[plan.stages]]\nchanges = ["lift"]', "plan.stages[0].changes[0]", 6, "there is none under [[changes]]"),
        (
            "[[plan.stages]]\non = 2026-05-02\n[[plan.stages]]\non = 2026-05-01",
            "plan.stages[1].on",
            8,
            "not before the stage before it, 2026-05-02",
        ),
        ('[wishes]\norder = ["width"]', "wishes.order[0]", 6, "section_width"),
        ('[wishes]\ndiameter = "37 in to 35 in"', "wishes.diameter", 6, "begins above its end"),
        (
            '[[changes]]\non = 2026-05-02\n[changes.measured]\n"axles.front.load" = '
            '{ value = "2 lb", on = 2026-05-01 }',
            'changes[0].measured."axles.front.load".on',
            8,
            "not before the work was done, 2026-05-02",
        ),
    ],
)
def test_what_cannot_be_is_told_by_name(tmp_path, text, key, line, told):
    with pytest.raises(Faulty) as faulty:
        read(tmp_path, text + "\n")
    (said,) = str(faulty.value).splitlines()
    assert f"truck.toml:{line}: {key}: " in said
    assert told in said


@pytest.mark.parametrize(
    "text",
    [
        # all of it, to the coin; what was paid for an order given up came back before the next
        f"{PART}price = 285\nquantity = 5\n{PAID.format(1000, '2026-03-10')}{PAID.format(425, '2026-04-01')}",
        f"{PART}{PAID.format(400, '2026-01-01')}{PAID.format(400, '2026-02-01')}refund = true\n",
        f"{PART}price = 285\n{PAID.format(300, '2026-03-10')}{PAID.format(15, '2026-04-01')}refund = true\n",
    ],
)
def test_payments_that_can_be_are_no_fault(tmp_path, text):
    assert read(tmp_path, text).project.parts[0].payments


SET = "[fitments.tall]\nprice = 1000\n"
OF_SET = '[[parts]]\nid = "{0}"\nkind = "{0}"\nused_for = ["tall"]\n{1}'


def test_no_more_is_paid_for_tires_and_wheels_without_a_price_than_their_set_costs(tmp_path):
    # 650, less the 50 that came back, and 400 are all of it; a unit more is not
    within = OF_SET.format("wheels", PAID.format(650, "2026-03-10") + PAID.format(50, "2026-03-11") + "refund = true\n")
    within += OF_SET.format("tires", PAID.format(400, "2026-03-12"))
    path = tmp_path / "truck.toml"
    path.write_text(f"format = 2\n{SET}{within}", "utf-8")
    raise_faults(read_project(path))
    path.write_text(f"format = 2\n{SET}{within}{PAID.format(1, '2026-03-13')}", "utf-8")
    with pytest.raises(Faulty, match=r"parts\[1\]\.payments\[1\]\.amount: more is paid for the set of tall than it"):
        raise_faults(read_project(path))


def test_a_truck_may_carry_two_spares(tmp_path):
    spare = WHEEL.replace("rear left", "spare")
    assert len(read(tmp_path, spare + spare.replace("W1", "W2")).project.wheels) == 2


def test_quotes_in_two_currencies_are_told_where_the_project_names_none(tmp_path):
    path = tmp_path / "truck.toml"
    quotes = "".join(f'[[parts.quotes]]\ncurrency = "{one}"\n' for one in ("USD", "EUR"))
    path.write_text(f'format = 2\n[[parts]]\nid = "a"\n{quotes}', "utf-8")
    with pytest.raises(Faulty, match=r"parts\[0\].quotes\[1\].currency: two quotes of one part in two currencies"):
        raise_faults(read_project(path))


@pytest.mark.parametrize(
    ("text", "kind", "ends"),
    [
        ("35 to 37 in", LENGTH, (35 * 0.0254, 37 * 0.0254)),
        ("35 in to 1 m", LENGTH, (35 * 0.0254, 1.0)),
        ("75 % to 85 %", SHARE, (0.75, 0.85)),
        ("35 1/2 in", LENGTH, (35.5 * 0.0254, 35.5 * 0.0254)),
        ("0 deg to 90 deg", ANGLE, (0.0, 1.5707963267948966)),
    ],
)
def test_a_range_is_read_as_people_write_it(text, kind, ends):
    found = read_range(text, kind)
    assert found.low is not None and found.high is not None
    assert (found.low.value, found.high.value) == pytest.approx(ends)


@pytest.mark.parametrize("text", ["", "to", "1 in to", "1 in to 2 in to 3 in", 5, True, [], "1 lb to 2 lb", "x" * 500])
def test_what_is_no_range_is_told(text):
    with pytest.raises(Unreadable):
        read_range(text, LENGTH)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("[[changes]]\n" * 101, "100 at most"),
        ('[[wheels]]\nnote = "x"\n' * 61, "60 at most"),
        ("[[plan.stages]]\n" * 21, "20 at most"),
        (f"[[parts]]\nid = 'a'\n{'[[parts.quotes]]' + chr(10)}" + "[[parts.quotes]]\n" * 20, "20 at most"),
        ("[[offered]]\n" * 501, "500 at most"),
        ("".join(f"[[tasks]]\nid = 't{at}'\n" for at in range(2001)), "2000 at most"),
    ],
)
def test_every_new_list_has_an_end(tmp_path, text, told):
    with pytest.raises(Faulty, match=told):
        read(tmp_path, text)
