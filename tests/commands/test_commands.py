"""The commands as a person or a script calls them: what they print, and how they end."""

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from calling import call, one_line

from planner.commands.table import COMMANDS

ROOT = Path(__file__).parents[2]
COUNTY = ROOT / "projects" / "county-road-4x4.toml"
FORESTRY = ROOT / "projects" / "forestry-4x4.toml"


@pytest.fixture
def truck(tmp_path):
    def write(text: str, name: str = "truck.toml") -> Path:
        path = tmp_path / name
        path.write_text("format = 1\n" + text, encoding="utf-8")
        return path

    return write


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_helps_with_an_example(capsys, name):
    code, out, err = call(capsys, name, "--help")
    assert code == 0 and not err
    assert "example" in out and f"planner {name}" in out


def test_the_help_stays_within_a_terminal(capsys):
    _, out, _ = call(capsys, "--help")
    assert max(map(len, out.splitlines())) <= 80


def test_a_command_that_is_not_there_suggests_the_nearest(capsys):
    code, out, err = call(capsys, "chek", "x.toml")
    assert code == 2 and not out and one_line(err) and "check" in err


@pytest.mark.parametrize(
    ("given", "named", "accepted"),
    [
        (["wheel.offset", "backspace=4 in"], "rim_width", "missing"),
        (["wheel.offset", "backspace=4 in", "rim_width=11 in", "rimwidth=2 in"], "rimwidth", "rim_width"),
        (["wheel.offset", "backspace=4 psi", "rim_width=11 in"], "backspace", "in, ft, mm"),
        (["wheel.offset", "backspace=4", "rim_width=11 in"], "backspace", "in, ft, mm"),
        (["wheel.offset", "backspace=4 in", "rim_width=-11 in"], "rim_width", "more than 0"),
        (["wheel.offset", "backspace=nan in", "rim_width=11 in"], "backspace", "in, ft, mm"),
        (["wheel.offset", "backspace=inf", "rim_width=11 in"], "backspace", "in, ft, mm"),
        (["wheel.offset", "backspace=9**9**9 m", "rim_width=11 in"], "backspace", "in, ft, mm"),
        (["wheel.offset", "backspace=4 in", "backspace=5 in", "rim_width=11 in"], "backspace", "twice"),
        (["wheel.offset", "backspace"], "backspace", "key=value"),
        (["wheel.ofset", "backspace=4 in"], "wheel.ofset", "wheel.offset"),
        (["tire.section_width", "designation=37x12.50R17LT", "rim_width=90 in"], "rim_width", ""),
        (["tire.load_capacity", "load_index=999"], "load_index", ""),
        (["tire.overall_diameter", "designation=banana"], "designation", ""),
    ],
)
def test_a_figure_asked_for_wrongly_is_one_line_that_names_the_key(capsys, given, named, accepted):
    code, out, err = call(capsys, "figure", *given)
    assert code == 2 and not out and one_line(err)
    assert named in err and accepted in err


def test_a_figure_is_given_as_one_object_in_si(capsys):
    code, out, _ = call(capsys, "figure", "wheel.offset", "backspace=4 in ± 1/16 in", "rim_width=11 in", "--json")
    told = json.loads(out)
    assert code == 0
    # 4 − 11/2 − 1/2 = −2 in; ± 1/16 in
    assert told["value"] == pytest.approx(-0.0508) and told["unit"] == "m"
    assert (told["low"], told["high"]) == pytest.approx((-0.0508 - 0.0015875, -0.0508 + 0.0015875))
    assert told["figure"] == "wheel.offset" and told["source"] == "geometry"
    assert set(told) >= {"figure", "value", "unit", "low", "high", "shown", "formula", "source", "inputs"}


def test_a_figure_with_several_results_gives_them_by_name(capsys):
    _, out, _ = call(capsys, "figure", "tire.designation", "designation=LT235/85R16 120/116R", "--json")
    value = json.loads(out)["value"]
    assert value["load_index"] == 120 and value["load_index_dual"] == 116 and value["speed_symbol"] == "R"


def test_a_figure_is_shown_in_the_unit_asked_for(capsys):
    _, out, _ = call(capsys, "figure", "fender.zero_clearance_diameter", "axle_to_fender=24 in", "--in", "mm")
    assert "1219.2 mm" in out
    code, _, err = call(capsys, "figure", "fender.zero_clearance_diameter", "axle_to_fender=24 in", "--in", "psi")
    assert code == 2 and one_line(err)


def test_all_figures_are_listed_with_their_keys(capsys):
    code, out, _ = call(capsys, "figure")
    assert code == 0 and "wheel.offset" in out and "backspace rim_width [flange_thickness]" in " ".join(out.split())


def test_check_puts_the_worst_first_and_ends_with_one_where_something_is_raised(capsys):
    code, out, _ = call(capsys, "check", FORESTRY)
    assert code == 1
    assert out.index("STOP") < out.index("CAUTION") < out.index("Do next")
    assert max(map(len, out.splitlines())) <= 80


def test_what_cannot_be_worked_out_is_told_before_all_flags_and_each_reason_once(capsys, tmp_path):
    text = COUNTY.read_text(encoding="utf-8").replace('stops_apart = "31 in ± 1/2 in"', 'stops_apart = "75 in"')
    path = tmp_path / "truck.toml"
    path.write_text(text, encoding="utf-8")
    _, out, _ = call(capsys, "check", str(path))
    assert out.count("axles.front.travel.stops_apart: read 75 in") == 1
    assert out.index("Can't be worked out") < out.index("CAUTION") and "not judged: fit.locks_too_wide" in out


def test_check_gives_the_same_as_data(capsys):
    code, out, _ = call(capsys, "check", FORESTRY, "--json")
    told = json.loads(out)
    assert code == 1 and told["flags"]
    for flag in told["flags"]:
        assert {"rule", "severity", "answer", "where", "ground"} <= set(flag)
        if flag["answer"] == "raised":
            assert flag["says"] and flag["do"]


def test_check_ends_with_nothing_where_nothing_is_raised(capsys, truck):
    path = truck('[vehicle]\ncg_height = "30 in"\n[fitments.found.wheel]\npieces = "one"\n')
    code, out, _ = call(capsys, "check", path)
    assert code == 0 and "0 stops, 0 cautions, 0 notes" in out


def test_an_empty_project_is_not_wrong(capsys, truck):
    code, out, err = call(capsys, "check", truck(""), "--full")
    assert code in (0, 1) and not err and "Not known yet" in out


@pytest.mark.parametrize(
    ("text", "line", "key", "accepted"),
    [
        ('[vehicle]\nwheelbase = "12 parsecs"\n', 3, "vehicle.wheelbase", "in, ft, mm"),
        ("[vehicle]\nwheelbase = 126\n", 3, "vehicle.wheelbase", "in, ft, mm"),
        ('[axles.front]\ntires = "two"\n', 3, "axles.front.tires", "whole number"),
        ('[vehicle]\nunits = "cubits"\n', 3, "vehicle.units", "'inch' or 'metric'"),
        ('[vehicle]\nwheelbse = "126 in"\n', 3, "vehicle.wheelbse", "wheelbase"),
        ('[plan]\nchosen = "nobody"\n', 3, "plan.chosen", "candidate"),
        ('[limits.least_brake_gpa]\nvalue = "3 mm"\nbecause = "x"\n', 2, "limits.least_brake_gpa", "least_brake_gap"),
        ('[limits.least_brake_gap]\nvalue = "3 mm"\n', 2, "limits.least_brake_gap", "because"),
        ('[limits.least_brake_gap]\nvalue = "3"\nbecause = "x"\n', 3, "limits.least_brake_gap.value", "in, ft, mm"),
        ('[[parts]]\nid = "a"\nprice = -3\n', 4, "parts[0].price", "a number from 0"),
        ('[[parts]]\nid = "a"\nprice = "1e99999999"\n', 4, "parts[0].price", "to 999,999,999,999, such as "),
        ('[[parts]]\nid = "a"\nprice = "1e400"\n', 4, "parts[0].price", "to 999,999,999,999"),
        ('[[parts]]\nid = "a"\nprice = "nan"\n', 4, "parts[0].price", "a number from 0"),
        ('[[parts]]\nid = "a"\nprice = 1e12\n', 4, "parts[0].price", "to 999,999,999,999"),
        ('[[parts]]\nid = "a"\nquantity = 9223372036854775807\n', 4, "parts[0].quantity", "at most 100000"),
        ('[fitments.a]\nprice = "1e99999999"\n', 3, "fitments.a.price", "to 999,999,999,999, such as "),
        ('[plan]\nbudget = "-Infinity"\n', 3, "plan.budget", "to 999,999,999,999, such as "),
        ("[plan]\nbudget = 9e300\n", 3, "plan.budget", "to 999,999,999,999"),
        ('[[parts]]\nid = "a"\nprice = "dear"\n', 4, "parts[0].price", "a number"),
        ('[[parts]]\nid = "a"\nquantity = 1.5\n', 4, "parts[0].quantity", "a whole number"),
        ('[[parts]]\nid = "a"\nlead_time = 2026-03-14\n', 4, "parts[0].lead_time", "read 'a date'"),
        ('[vehicle]\nyear = "abc"\n', 3, "vehicle.year", "a whole number"),
        ("[vehicle]\nyear = 53\n", 3, "vehicle.year", "at least 1880"),
        ('[vehicle]\nfractions = "perhaps"\n', 3, "vehicle.fractions", "yes or no"),
        ("[plan]\nhours_a_week = 0\n", 3, "plan.hours_a_week", "more than 0"),
        ("[plan]\nstart = 12:30:00\n", 3, "plan.start", "read 'a time of day'; accepted: a date"),
        ("[plan]\nstart = 2026-13-01\n", 3, "there's no such date", "a date such as"),
        ('[[decisions]]\non = "soon"\n', 3, "decisions[0].on", "2026"),
        ("vehicle = 3\n", 2, "vehicle", "table"),
        ('[[obstacles]]\nto = ["1 in", "1 in", "1 in"]\n', 3, "obstacles[0].to", "at"),
        (
            '[fitments.a.tire]\nsection_width = "9 in"\ntread_width = "10 in"\n',
            4,
            "fitments.a.tire.tread_width",
            "9 in",
        ),
    ],
)
def test_a_fault_names_file_line_key_what_was_read_and_what_is_accepted(capsys, truck, text, line, key, accepted):
    path = truck(text)
    before = path.read_bytes()
    code, out, err = call(capsys, "check", path)
    # what is TOML and of a format that is known answers for all that does not rest on the fault
    assert code == 2 and out.partition("\n")[0].endswith("IN THE FILE") is ("." in key or key == "vehicle")
    assert f"truck.toml:{line}: {key}" in err and accepted in err
    assert path.read_bytes() == before


def test_every_fault_is_told_in_one_pass(capsys, truck):
    path = truck('[vehicle]\nwheelbase = "x"\nunits = "y"\n[axles.rear]\nload = "1 mm"\nraiting = "1 lb"\n')
    code, _, err = call(capsys, "check", path)
    assert code == 2
    for key in ("vehicle.wheelbase", "vehicle.units", "axles.rear.load", "axles.rear.raiting"):
        assert key in err


def test_a_key_of_ones_own_is_kept_and_noted(capsys, truck):
    code, _, err = call(capsys, "check", truck('[vehicle]\npaint_of_the_cab = "green"\n'))
    assert code in (0, 1) and "paint_of_the_cab" in err and "kept" in err


def test_a_newer_file_is_refused_unharmed(capsys, tmp_path):
    path = tmp_path / "new.toml"
    path.write_text("format = 99\n")
    code, _, err = call(capsys, "check", path)
    assert code == 2 and one_line(err) and "newer" in err
    assert path.read_text() == "format = 99\n"


@pytest.mark.parametrize("command", [["check"], ["why"]])
def test_a_file_that_is_not_there_is_one_line(capsys, tmp_path, command):
    code, _, err = call(capsys, *command, tmp_path / "none.toml", *(["offset"] if command == ["why"] else []))
    assert code == 2 and one_line(err) and "none.toml" in err


HOSTILE = "a [red]b[/red] \x1b[31m\u202e\u200b\nc"


def test_hostile_text_is_shown_harmlessly(capsys, truck):
    name = json.dumps(HOSTILE)
    candidate = json.dumps("x\u202e")
    path = truck(f"[vehicle]\nname = {name}\n[fitments.tall]\ndescription = {name}\n[decisions]\n")
    code, out, err = call(capsys, "check", path)
    assert code == 2 and "decisions" in err
    path = truck(
        f"[vehicle]\nname = {name}\n{json.dumps('k' + chr(0x1B))} = 1\n[fitments.tall]\ndescription = {name}\n"
    )
    code, out, err = call(capsys, "check", path)
    assert code in (0, 1)
    for text in (out, err):
        assert not set(text) & {"\x1b", "\u202e", "\u200b"} and "[red]" in out
    path = truck(f"[fitments.{candidate}]\n")
    code, out, err = call(capsys, "check", path)
    assert code == 2 and "\u202e" not in err


def test_why_goes_down_to_the_entries(capsys):
    code, out, _ = call(capsys, "why", COUNTY, "wheel.poke", "--axle", "front")
    assert code == 0
    assert "poke = outboard reach − face to fender edge" in out
    assert "entered: axles.front.fender.face_to_edge" in " ".join(out.split())
    assert "What the spread comes from" in out and "fit.poke_not_as_wanted, rule" in out
    assert max(map(len, out.splitlines())) <= 80


def test_why_gives_the_tree_as_data(capsys):
    _, out, _ = call(capsys, "why", COUNTY, "offset", "--axle", "rear", "--json")
    (tree,) = json.loads(out)
    assert tree["name"] == "wheel.offset" and tree["place"] == {"fitment": "tall", "axle": "rear"}
    assert any(below.get("entry") for below in tree["rests_on"])


@pytest.mark.parametrize(
    "given",
    [["ofset"], ["offset", "--axle", "middle"], ["offset", "--fitment", "none"], ["wheelbase", "--axle", "front"]],
)
def test_why_asked_wrongly_is_one_line(capsys, given):
    code, out, err = call(capsys, "why", COUNTY, *given)
    assert code == 2 and not out and one_line(err)


def test_the_schema_describes_the_file(capsys):
    code, out, _ = call(capsys, "schema")
    schema = json.loads(out)
    assert code == 0 and schema["properties"]["vehicle"]
    assert "wheelbase" in schema["$defs"]["Vehicle"]["properties"]


def test_the_version_is_told(capsys):
    code, out, _ = call(capsys, "--version")
    assert code == 0 and re.fullmatch(r"planner \d+\.\d+\.\d+\n", out)


def test_a_new_project_names_the_schema_that_the_command_writes(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    call(capsys, "new", "truck.toml")
    call(capsys, "new", "whole.toml", "--all")
    assert call(capsys, "schema", "-o")[0] == 0
    for name in ("truck.toml", "whole.toml"):
        first = (tmp_path / name).read_text(encoding="utf-8").splitlines()[0]
        named = tmp_path / first.removeprefix("#:schema ")  # relative to the file, as editors read it
        assert json.loads(named.read_text(encoding="utf-8")) == json.loads(call(capsys, "schema")[1])


def test_a_schema_takes_the_place_of_its_like_and_of_nothing_else(capsys, tmp_path):
    path = tmp_path / "other.json"
    for raw in (b"{}", b"\xff\x00", b""):
        path.write_bytes(raw)
        code, out, err = call(capsys, "schema", "-o", path)
        assert code == 2 and not out and one_line(err) and path.read_bytes() == raw
    path.unlink()
    for _ in range(2):
        assert call(capsys, "schema", "-o", path)[0] == 0
    (tmp_path / "link.json").symlink_to(path)
    for odd in (tmp_path, tmp_path / "link.json", tmp_path / "gone" / "it.json", "a\0b"):
        code, _, err = call(capsys, "schema", "-o", odd)
        assert code == 2 and one_line(err)
    assert sorted(one.name for one in tmp_path.iterdir()) == ["link.json", "other.json"]


@pytest.mark.parametrize("units", ["inch", "metric"])
def test_a_new_project_checks_at_once_and_is_never_written_over(capsys, tmp_path, units):
    path = tmp_path / "truck.toml"
    code, out, _ = call(capsys, "new", path, "--units", units, "--name", 'Old "No. 9" \\ truck')
    assert code == 0 and "planner check" in out
    code, out, err = call(capsys, "check", path)
    assert code in (0, 1) and not err and 'Old "No. 9"' in out
    before = path.read_bytes()
    code, _, err = call(capsys, "new", path)
    assert code == 2 and one_line(err) and path.read_bytes() == before


@pytest.mark.parametrize("units", ["inch", "metric"])
def test_every_example_in_the_starting_file_can_be_read(capsys, tmp_path, units):
    """Taking the # away from every blank gives a file without faults but for what contradicts itself."""
    from planner.project.starting import starting_text

    lines = starting_text("x", units, every=True).splitlines()
    blanks = [line.startswith("#") and not line.startswith(("# ", "#:")) and '"?' not in line for line in lines]
    opened = [line[1:] if blank else line for line, blank in zip(lines, blanks, strict=True)]
    path = tmp_path / "all.toml"
    path.write_text("\n".join(opened), encoding="utf-8")
    code, _, err = call(capsys, "check", path)
    assert code in (0, 1), err


def test_a_folder_that_cannot_be_written_is_one_line(capsys, tmp_path):
    code, _, err = call(capsys, "new", tmp_path / "no" / "such" / "folder" / "truck.toml")
    assert code == 2 and one_line(err)


def test_check_imports_nothing_heavy():
    heavy = {"textual", "numpy", "typst", "pint", "tomlkit", "scipy"}
    code = (
        "import sys; from planner.commands.table import main; main(['check', sys.argv[1]]);"
        f"print(sorted({heavy!r} & set(sys.modules)), file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code, str(COUNTY)], capture_output=True, text=True, cwd=ROOT)
    assert done.stderr.strip() == "[]"


def test_color_only_on_a_terminal(capsys):
    _, out, _ = call(capsys, "check", COUNTY)
    assert "\x1b" not in out


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        ('designation = "bogus"', "designation: read 'bogus'"),
        ("load_index = 500", "load_index: read '500'"),
        ('speed_symbol = "@"', "speed_symbol: read '@'"),
        ('date_code = "9999"', "date_code: read '9999'"),
        ('overall_diameter = "36 in ± 40 in"', "overall_diameter: it has a tolerance as wide as itself"),
    ],
)
def test_what_no_sidewall_says_is_a_fault_with_its_place(capsys, truck, entry, said):
    code, out, err = call(capsys, "check", truck(f"[fitments.tall.tire]\n{entry}\n"))
    assert code == 2 and out.startswith("1 FAULT IN THE FILE\n") and one_line(err)
    assert f"truck.toml:3: fitments.tall.tire.{said}" in err


def test_two_tires_side_by_side_carry_by_their_own_index(capsys, truck):
    # Index 116 is 1250 kg by the table, four of them 5000 kg = 11,023 lb: less than 11,900 lb.
    path = truck(
        '[axles.rear]\ntires = 4\nload = "11,900 lb"\n[fitments.found.tire]\ndesignation = "LT235/85R16 120/116R"\n'
    )
    _, out, _ = call(capsys, "check", path)
    assert "STOP     rear: the tires carry less than the load on the axle" in out


def test_no_pressure_is_told_without_the_makers_least(capsys, truck):
    text = (
        '[axles.front]\ntires = 2\nload = "900 lb"\n[fitments.found.tire]\nload_index = 121\n'
        'rated_pressure = "80 psi"\npassenger = false\n'
    )
    _, out, _ = call(capsys, "check", truck(text), "--figures")
    line = next(line for line in out.splitlines() if "running pressure" in line)
    assert "not known" in line
