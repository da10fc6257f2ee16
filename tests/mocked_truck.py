"""A truck with a stone over its left rear wheel, and mock-up readings of the room there.

The rear axle comes up 60 mm to a stop that does not give; a stone stands 500 mm over the hub, a tire of 400 mm radius
under it. Crossed, the far end held, the axle rolls by sin φ = 60/1500 and the stone comes to 39.6 mm (`test_sweeping`),
give or take the 5 mm that the stone's height is read to.
"""

from datetime import date

from plain_truck import PLAIN

from planner.plan.answers.flagging import flags
from planner.plan.answers.mock_up_basis import mock_up_basis
from planner.plan.answers.open_project import open_project
from planner.project.migrating import amend_or_rewrite
from planner.worksheet.outcome import Known

TODAY = date(2026, 11, 25)
TRUCK = """
format = 2
[vehicle]
units = "metric"
[axles.rear]
face_to_face = "1500 mm exact"
[axles.rear.travel]
bump = "60 mm exact"
droop = "0 mm exact"
[fitments.found.tire]
overall_diameter = "800 mm exact"
section_width = "200 mm exact"
tread_width = "200 mm exact"
[fitments.found.wheel]
rim_width = "160 mm exact"
rim_diameter = 16
barrel_radius = "190 mm exact"
offset = "0 mm exact"
"""
STONE = """
[[obstacles]]
name = "stone"
axle = "rear"
side = "{side}"
kind = "{kind}"
moves_with = "body"
at = ["0 mm exact", "0 mm exact", "500 mm ± 5 mm"]
wants = "{wants}"
"""
READ = """
[[readings]]
of = "stone"
fitment = "{fitment}"
value = "{value}"
reached = {reached}
"""
ALL = '["bump", "droop", "crossed"]'


class Truck:
    """A truck with a stone over its left rear wheel, and the mock-up readings that were taken of the room there."""

    def __init__(self, tmp_path):
        self.path = tmp_path / "truck.toml"

    def __call__(self, *readings, side="left", wants="38 mm", kind="frame", more="", rested=True):
        text = TRUCK + PLAIN + more + STONE.format(side=side, wants=wants, kind=kind) + "".join(readings)
        self.path.write_text(text)
        return self.taken() if rested else open_project(self.path, TODAY)

    def taken(self):
        """As if each reading had been written down by the program, with the wheel that is on now."""
        opened = open_project(self.path, TODAY)
        bases = {
            ("readings", at, "rested_on"): mock_up_basis(opened, one)
            for at, one in enumerate(opened.project.readings)
            if one.fitment
        }
        if not bases:
            return opened
        self.path.write_text(amend_or_rewrite(self.path.read_text(), bases)[0])
        return open_project(self.path, TODAY)

    def later(self, *swaps):
        """The file with something changed by hand since."""
        text = self.path.read_text()
        for old, new in swaps:
            assert old in text
            text = text.replace(old, new, 1)
        self.path.write_text(text)
        return open_project(self.path, TODAY)


def read(value, reached=ALL, fitment="found", more=""):
    return READ.format(value=value, reached=reached, fitment=fitment) + more


def answer(opened, rule="tire_near", elsewhere=""):
    """What the rule says; of a clear or unasked one that is too far off nothing more is wanted here."""
    asked = (flag for flag in flags(opened) if flag.rule.name == f"fit.{rule}" and flag.where != elsewhere)
    return next((flag.verdict.answer for flag in asked), "not asked")


def least(opened):
    outcome = opened.sheet.outcome(opened.spot("least_clearance", fitment="found", obstacle="stone"))
    assert isinstance(outcome, Known)
    return outcome


TALL = """
[fitments.tall.tire]
overall_diameter = "800 mm"
section_width = "200 mm"
tread_width = "200 mm"
[fitments.tall.wheel]
rim_width = "160 mm"
rim_diameter = 16
barrel_radius = "190 mm"
offset = "0 mm"
[fitments.wide.tire]
overall_diameter = "800 mm"
section_width = "200 mm"
tread_width = "200 mm"
[fitments.wide.wheel]
rim_width = "160 mm"
rim_diameter = 16
barrel_radius = "190 mm"
offset = "0 mm"
[plan]
chosen = "wide"
"""


TWICE = """
[[readings]]
of = "obstacles[0].at"
value = ["0 mm exact", "0 mm exact", "500 mm ± 5 mm"]
by = "{by}"
"""
