"""The build record: what was entered, every figure with formula, values and ground, flags, decisions, work, diary."""

from collections.abc import Iterator

from planner.plan.answers.flagging import Flag
from planner.plan.answers.stage_words import stage_lines
from planner.plan.answers.stages import judged_stages
from planner.plan.drawings.backspace_window import backspace_window
from planner.plan.drawings.clearance_map import clearance_map
from planner.plan.drawings.engine_speed import engine_speed_chart
from planner.plan.drawings.fender_opening import fender_opening
from planner.plan.drawings.steered_tire import steered_tire
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import together
from planner.quantities.text import clean
from planner.sheets.blocks import (
    Block,
    Caution,
    Contents,
    DrawingBlock,
    Heading,
    Paragraph,
    Picture,
    Rows,
    SignatureBox,
)
from planner.sheets.kind import CannotPrint, Content, SheetKind, Subject, stops
from planner.sheets.record_entries import changes, facts, mock_ups, obstacles, readings, set_otherwise
from planner.sheets.record_opening import opening
from planner.sheets.record_work import came, decisions, diary, parts, sheets, work
from planner.sheets.shop_face import shop_face
from planner.sheets.shop_section import shop_section
from planner.sheets.workings import workings

MAIN = (
    "overall_diameter", "rim_width", "backspace", "stud_circle", "axle_ratio", "effective_axle_ratio",
    "cruise_engine_speed", "poke", "nut_torque", "stop_angle",
)  # fmt: skip


LOOKED_OVER = ("by", "on", "what the odometer shows", "what was looked at")


def build(subject: Subject) -> Content:
    opened = subject.opened
    if not opened.keys and not opened.project.obstacles:
        raise CannotPrint("nothing is entered yet that could go on record")
    blocks: list[Block] = [
        Caution(
            "This record says what was measured, worked out and done. It's not an approval: somebody licensed for it "
            "has to inspect what the code where the truck runs requires."
        ),
        *opening(subject),
        Heading("Contents", fresh=True),
        Contents(),
        *facts(opened),
        *readings(subject),
        *obstacles(opened),
        *mock_ups(opened),
        *changes(opened),
        *_stages(subject),
        *_drawings(opened),
        Heading("Figures", fresh=True),
        Paragraph(
            "Each with its formula, the values put in, and where it comes from. ± is the worst that the measuring "
            "tolerances can add up to."
        ),
        *workings(opened),
        *set_otherwise(opened),
        *_flags(subject),
        *decisions(subject),
        *work(subject),
        *parts(subject),
        *came(subject),
        *sheets(opened),
        *diary(opened),
        SignatureBox("Looked over", LOOKED_OVER, "With this record beside the truck."),
    ]
    catalog = opened.sheet.catalog
    spots = [
        spot
        for node in MAIN
        if catalog.knows(node)
        for spot in opened.sheet.spots(node)
        if not spot.place[0] or spot.place[0] in opened.planned
    ]
    return Content(tuple(blocks), tuple(spots), reasons=stops(subject.flags))


def _stages(subject: Subject) -> Iterator[Block]:
    """What is on when, and how each stage is judged; its flags are told with the others."""
    told = list(stage_lines(subject.opened, judged_stages(subject.opened, subject.flags)))
    if told:
        yield Heading("Stages of the build")
        yield from (Paragraph(f"{line[0].upper()}{line[1:]}.") for line in told)


def _drawings(opened: OpenProject) -> Iterator[Block]:
    """Of what is planned: wheels, fender openings, the steered tire, what fits, and the engine's speed."""
    if len(opened.planned) != 1:
        return
    yield Heading("Drawings")
    drawn: dict[Picture, None] = {}
    for picture, tall in _pictures(opened, opened.planned[0]):
        same = picture._replace(title="", words="")
        if same not in drawn:
            drawn[same] = None
            yield DrawingBlock(picture, tall)


def _pictures(opened: OpenProject, fitment: str) -> Iterator[tuple[Picture, float]]:
    for draw, tall in ((shop_section, 360), (shop_face, 230), (fender_opening, 260)):
        for axle in ("front", "rear"):
            yield draw(opened, fitment, axle), tall
    for axle in ("front", "rear"):
        if opened.steers(axle, fitment):
            yield steered_tire(opened, fitment, axle), 300
    if opened.obstacles:
        for axle in ("front", "rear"):
            yield clearance_map(opened, fitment, axle), 240
            yield backspace_window(opened, fitment, axle), 240
    yield engine_speed_chart(opened, fitment), 260


def _flags(subject: Subject) -> Iterator[Block]:
    yield Heading("Flags", fresh=True)
    for answer in ("raised", "too close to call", "not known", "clear"):
        several = [flag for flag in subject.all_flags if (flag.under or flag).verdict.answer == answer]
        if several:
            yield Heading(answer[0].upper() + answer[1:], 2)
            yield Rows(("what", "how it stands", "ground"), tuple(_flag_row(flag) for flag in several), (4, 8, 2.5))


def _flag_row(flag: Flag) -> tuple[str, str, str]:
    says = [flag.says, flag.by, f"As found: {flag.as_found}" if flag.as_found else ""]
    if flag.verdict.answer in ("raised", "too close to call"):
        says.append(f"Do: {flag.cure}")
    if flag.settles:
        says.append("To settle it, measure " + together(map(clean, flag.settles)))
    if flag.needs or flag.verdict.trouble:
        says.append("Waits for " + ", ".join(map(clean, flag.wants)) if flag.wants else clean(flag.verdict.trouble))
    if flag.acceptance is not None:
        on, because = flag.acceptance.on or "", clean(flag.acceptance.because or "")
        by = f" by {clean(flag.acceptance.by)}" if flag.acceptance.by else ""
        says.append(f"ACCEPTED {on}{by}: {because}" + (f". LAPSED: {flag.lapsed}" if flag.lapsed else ""))
    said = " ".join(text if text.endswith(".") else f"{text}." for text in says if text)
    what = flag.rule.severity if flag.under is None else "also"
    return f"{what}, {flag.notice} ({flag.rule.name})", said, str(flag.rule.ground)


KIND = SheetKind(
    "record", "Build record", "what's on the truck now; then everything: facts, figures, flags, decisions", build
)
