"""Ten revisions of the first example, each with what it asks again and what it leaves alone.

What an experienced builder wants to hear of each was written down before the program was let say it. *Choices* are
those of tires, wheel, gears and brakes, and the signature under them.

| revision | asked again | left alone |
| --- | --- | --- |
| a price goes up | the sum, the budget | every record and part |
| bearings come late | dates, and by name what slips | every record and part |
| tires larger than the table | choices, drawing, orders; tires, driven gear; cautions | nuts, bearings, receipts |
| rear circle anew, a stop comes up | wheel, signature, drawing, wheels and their sheet | tires, gears, nuts, cautions |
| regeared after all | the decision, gears, driven gear; a set to make and buy | wheels, tires, drawing |
| the other candidate | choices, drawing, orders, sheets; its parts and receipts | all measured, made safe; nuts |
| wheels sent back | order, receipt, what was tried on with them, money, dates | choices, the other parts |
| a bore comes small | that wheel, and where it would still do | every record, nuts, bearings |
| an axle weighs more | choices that carry it, what is signed, loads on the order | studs, the circle, parts, receipts |
| the law allows less width | the code that was read, wheel, signature | speed, gears, parts |

A stop that comes too close with the larger tire asks for the wheels as well. No caution that this truck takes on rests
on a load: each holds the wheel against the one found, at the same load.
"""

import json
import shutil
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from calling import call
from looked_at_truck import SHEETS, written

pytestmark = pytest.mark.slow

CHOICES = {"decide.tires", "decide.wheel", "decide.gears", "decide.brakes", "decide.sign"}
RECEIVED = {"receive.bore.front", "receive.bore.rear", "receive.backspace.front", "receive.backspace.rear"}
TRIED_ON = {"mock_up.trial_fit.front"}
MOMENTS = {f"steering.bearing_moment_grown, tall, {end}" for end in ("front", "rear")}
TORQUES = {f"gearing.shaft_torque_grown, tall, {end}" for end in ("front", "rear")}
REGEARED = (
    "changes[1].name=5.86 gears",
    "changes[1].kind=gear set",
    "changes[1].state=decided",
    "changes[1].price=900",
    'changes[1].sets."axles.front.ratio"=5.86',
    'changes[1].sets."axles.rear.ratio"=5.86',
)


class Told(NamedTuple):
    """What `change --apply` said, and which records, parts and sheets it puts in question, by name."""

    change: dict[str, Any]
    again: set[str]
    parts: set[str]
    sheets: set[str]

    @property
    def raised(self) -> set[tuple[str, str]]:
        return {(one["rule"], one["where"] or "") for one in self.change["flags"] if one["how"] == "up"}

    @property
    def costs_more(self) -> float:
        before, after = (one["total"] for one in self.change["cost"])
        return after - before

    def why(self, name: str) -> list[str]:
        (one,) = [one for one in self.change["look_again"] if one["name"] == name]
        return [f"{each['name']} was {each['then']}, now {each['now']}" for each in one["moved"]]


@pytest.fixture(scope="module")
def signed(tmp_path_factory) -> Path:
    return written(tmp_path_factory.mktemp("signed"))


@pytest.fixture
def truck(signed, tmp_path) -> Path:
    shutil.copytree(signed.parent, tmp_path, dirs_exist_ok=True)
    return tmp_path / signed.name


@pytest.fixture
def change(capsys, truck):
    """A change made as a person makes it; what it tells is told again by `planner again`, and by nothing else."""

    def made(*settings: str) -> Told:
        code, out, err = call(capsys, "change", truck, *settings, "--because", "so it is", "--apply", "--json")
        told = json.loads(out)
        assert told["made"], err
        again = [one["name"] for one in told["look_again"]]
        sheets = [SHEETS[int(one["key"][7:-1])] for one in told["sheets_out_of_date"]]
        later = json.loads(call(capsys, "again", truck, "--json")[1])
        assert {one["name"] for one in later if one["record"] != "sheet"} == set(again)
        found = Told(told, set(again), {one["id"] for one in told["parts_in_question"]}, set(sheets))
        assert {part for rule, part in found.raised if rule == "plan.ordered_part_rests_on_changed"} <= found.parts
        return found

    return made


def test_nothing_is_asked_while_nothing_moves(capsys, truck):
    assert call(capsys, "again", truck)[0] == 0


def test_a_price_that_goes_up_asks_for_the_sum_and_the_budget(change):
    told = change("parts.tires.price=900")
    assert told[1:] == (set(), set(), set())
    assert told.raised == {("plan.cost_past_budget", "")}
    assert told.costs_more == 5 * (900 - 472)


def test_bearings_that_come_late_ask_for_dates_and_tell_by_name_what_slips(change):
    told = change("parts.bearings.promised=2027-03-01")
    assert told[1:] == (set(), set(), set())
    assert told.raised == {("plan.part_comes_late", "bearings")}
    (late,) = [one["now"]["says"] for one in told.change["flags"] if one["how"] == "up"]
    assert "fit.bearings.front" in late and "2027-03-01" in late and "tasks more" in late
    assert told.change["finish"][0] < "2027-03-01" < told.change["finish"][1]


def test_a_tire_larger_than_its_table_asks_for_all_that_was_chosen_by_it(change):
    told = change(
        "fitments.tall.tire.overall_diameter=37.4 in ± 0.05 in",
        "fitments.tall.tire.loaded_radius=17 13/16 in ± 1/16 in",
    )
    cautions = {*MOMENTS, *TORQUES, "speedometer.reads_low, tall"}
    orders = {"order.drawing", "order.wheels", "order.small"}  # a stop comes too close for the wheels as well
    assert told.again == {"regear with the 37s?", *CHOICES, *cautions, *orders}
    assert told.parts == {"tires", "wheels", "speedometer_gear"}  # neither nuts nor bearings
    assert told.sheets == {"checklist", "measuring"}  # the lock that is left, and the tire
    # drive teeth 6 × 5.22 / (π × the rolling radius × 1000 turns to the mile) goes with 1 / 37.4: 17.68 to 17.40
    assert told.why("order.small") == ["nearest_driven_gear (tall) was 18, now 17"]


def test_a_rear_circle_that_misses_the_wheels_asks_for_the_wheels_and_what_was_signed_for_them(change):
    # 7.140 in over the edges less 9/16 in is a chord of 6.5775 in: 7.595 in of circle, 0.030 in less than drilled
    told = change(
        "axles.rear.studs.outer_edge_spacing=7.140 in ± 0.003 in",
        "axles.rear.studs.skip_spacing=6.578 in ± 0.003 in",
        "axles.rear.studs.adjacent_spacing=3.797 in ± 0.003 in",
    )
    assert told.again == {"decide.wheel", "decide.sign", "order.drawing", "order.wheels"}
    assert told.parts == {"wheels"} and told.sheets == {"order", "checklist"}
    assert {("plan.signature_lapsed", "decide.sign"), ("plan.signature_lapsed", "order.drawing")} <= told.raised
    assert told.why("order.drawing") == [
        "stops against wheels was none, now rear: wheel and hub have different bolt circles"
    ]


def test_regeared_after_all_it_asks_for_gears_and_speedometer_and_makes_work_of_the_set(capsys, truck, change):
    told = change(*REGEARED)
    assert told.again == {"regear with the 37s?", "decide.gears", "decide.tires", "decide.sign", "order.small"}
    assert told.parts == {"speedometer_gear"} and told.sheets == {"checklist"}
    assert told.why("order.small") == ["nearest_driven_gear (tall) was 18, now 20"]
    tasks = json.loads(call(capsys, "task", truck, "--json")[1])["tasks"]
    assert {"change.5_86_gears", "order.gears.front", "order.gears.rear"} <= {one["id"] for one in tasks}
    assert told.costs_more == 900
    code, *_ = call(capsys, "again", truck, "decisions[0]", "5.86 in both axles", "--because", "it is a hill")
    again = json.loads(call(capsys, "again", truck, "--json")[1])
    assert code == 0 and "regear with the 37s?" not in {one["name"] for one in again}


def test_the_other_candidate_asks_for_all_that_was_of_the_first(capsys, truck, change):
    told = change("plan.chosen=modest")
    orders = {"order.drawing", "order.wheels", "order.small"}
    assert told.again == {*CHOICES, *orders, *RECEIVED, *TRIED_ON}
    assert told.parts == {"wheels", "tires", "speedometer_gear"} and told.sheets == set(SHEETS)
    assert told.why("decide.wheel") == ["plan.chosen was tall, now modest"]
    out = call(capsys, "again", truck)[1]
    assert (
        "tasks: decide.tires, decide.wheel" in out and out.count("chosen set was tall, now modest") == 2
    )  # and sheets
    change("plan.chosen=tall")
    assert call(capsys, "again", truck)[0] == 0  # and with the first chosen again all of it stands


def test_wheels_that_go_back_ask_for_what_was_done_with_them(change):
    told = change("parts.wheels.state=returned")
    assert told.again == {"order.wheels", *RECEIVED, *TRIED_ON}
    assert told.parts == set() and told.sheets == set()
    assert told.why("receive.bore.rear") == ["parts.wheels was arrived, now returned"]
    # five at 285 are out of the sum; of the set at 3,895 what five tires at 472 do not say is wanted again
    assert told.costs_more == -5 * 285 + 3895 - 5 * 472
    assert told.change["finish"][1] > told.change["finish"][0]


def test_a_bore_that_comes_small_asks_for_that_wheel_and_says_where_it_would_do(change):
    told = change("wheels[0].mark=W3", "wheels[0].position=rear left", "wheels[0].bore=5.118 in ± 0.001 in")
    assert told[1:] == (set(), set(), set())
    assert {where for _, where in told.raised} == {"W3"}
    (says,) = [one["now"]["says"] for one in told.change["flags"] if one["rule"] == "plan.received_wheel_will_not_do"]
    assert "W3" in says and "bore" in says


def test_an_axle_that_weighs_more_asks_for_tire_margin_and_what_it_takes_to_stop(change):
    told = change("axles.rear.load=3,700 lb ± 20 lb", "axles.rear.laden_load=4,740 lb")
    assert told.again == CHOICES - {"decide.gears"}  # they carry a hundredth more
    assert told.parts == set() and told.sheets == {"order"}


def test_less_width_by_law_asks_for_the_wheel_and_the_signature(change):
    told = change("legal.overall_width=79 in")
    assert told.again == {"safe.local_code", "decide.wheel", "decide.sign"}
    assert told.parts == set() and told.sheets == {"checklist"}
