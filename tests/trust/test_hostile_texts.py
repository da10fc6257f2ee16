"""Every text field of the models through every face: whatever a person writes is shown as text, and as nothing else."""

from functools import cache
from pathlib import Path

import pytest
from trust.faces import CUT, DATA, FACES, IN_COLUMNS, ODD_ARGUMENT, said
from trust.hostile_texts import APART, KEY_AND_VALUE, fields, mark, name_of, odd, project, told_otherwise

from planner.commands.table import main

FIELDS = dict(enumerate(fields()))
TOGETHER = {number: field for number, field in FIELDS.items() if not field.named.endswith(APART)}


@pytest.fixture(scope="module")
def truck(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The project, and a diary whose first entry came about by hand and whose second has an odd reason."""
    path = tmp_path_factory.mktemp("hostile") / "truck.toml"
    path.write_text("format = 2\n", encoding="utf-8")
    said("change", str(path), "vehicle.year=1950", "--apply")
    path.write_text(project(TOGETHER), encoding="utf-8")
    said("change", str(path), "vehicle.wheelbase=100 in", "--because", ODD_ARGUMENT, "--apply")
    return path


@cache
def shown(face: str, path: Path) -> str:
    """All that a face shows, without what only breaks it into lines."""
    return together(FACES[face](path))


def together(text: str) -> str:
    return "".join(text.replace("\u200b", "").split())


@pytest.mark.parametrize("face", FACES)
def test_whatever_a_person_writes_is_shown_as_text(truck: Path, face: str) -> None:
    text = shown(face, truck)
    assert face.endswith(DATA) or text.isprintable()
    for number, field in TOGETHER.items() if face not in IN_COLUMNS else ():
        written = name_of(number) if field.key[-1] == "<>" and field.key[-2] not in KEY_AND_VALUE else odd(number)
        until = ("[b]" if written[0:2] == "=Q" else "[/red]") if face.endswith(CUT) else ""
        assert not [*told_otherwise(text, number, written, until)], field.named


def test_every_text_field_is_shown_by_one_face_at_the_least(truck: Path) -> None:
    everything = "".join(shown(face, truck) for face in FACES)
    assert not [field.named for number, field in TOGETHER.items() if mark(number) not in everything]


@pytest.mark.parametrize(
    "every",
    [
        pytest.param(False, marks=pytest.mark.shortened, id="the first"),
        pytest.param(True, marks=pytest.mark.slow, id="every face"),
    ],
)
@pytest.mark.parametrize("number", [n for n, field in FIELDS.items() if field.named.endswith(APART)])
def test_what_would_stop_the_rest_is_shown_as_text_too(tmp_path: Path, number: int, every: bool) -> None:
    """By the first face that shows it, and where all tests run by every one."""
    path = tmp_path / "truck.toml"
    path.write_text(project({number: FIELDS[number]}), encoding="utf-8")
    seen = False
    for face in ("check", "change", "task", "check as data", "compare", "checklist as text"):
        text = FACES[face](path)
        assert all(row.isprintable() for row in text.splitlines())
        seen = seen or mark(number) in text
        if seen and not every:
            break
    assert seen, FIELDS[number].named


def test_odd_words_on_the_command_line_are_told_as_text(truck: Path) -> None:
    for words in (
        ("figure", ODD_ARGUMENT),
        ("figure", "wheel.offset", f"backspace={ODD_ARGUMENT}", "rim_width=8 in"),
        ("figure", "wheel.offset", f"{ODD_ARGUMENT}=8 in"),
        ("why", str(truck), ODD_ARGUMENT),
        ("compare", str(truck), ODD_ARGUMENT),
        ("task", str(truck), "show", ODD_ARGUMENT),
        ("change", str(truck), f"{ODD_ARGUMENT}=1"),
        ("change", str(truck), f"vehicle.wheelbase={ODD_ARGUMENT}"),
        ("check", ODD_ARGUMENT),
        ("print", str(truck), ODD_ARGUMENT),
        (ODD_ARGUMENT,),
    ):
        text = said(*words)
        assert text and all(row.isprintable() for row in text.splitlines()), words


def test_no_text_is_read_as_a_place_in_the_file_system(truck: Path) -> None:
    assert {one.suffix for one in truck.parent.iterdir()} <= {".toml", ".jsonl", ".lock", ".pdf"}
    assert main(["check", str(truck)]) in (0, 1)
