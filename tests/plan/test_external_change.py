"""What another program did to the file of the open project: what differs, what cannot be read, what is at fault."""

import pytest

from planner.plan.external_change import look_for_external_change
from planner.project.diary_entries import KeyChange
from planner.project.source import ProjectText, digest_of, load

TRUCK = 'format = 2\n[axles.front]\nrating = "4,000 lb"\n'


@pytest.fixture
def source(tmp_path) -> ProjectText:
    path = tmp_path / "truck.toml"
    path.write_text(TRUCK, encoding="utf-8")
    return load(path)


def changed(source: ProjectText, old: str, new: str) -> str:
    source.path.write_text(TRUCK.replace(old, new), encoding="utf-8")
    return digest_of(source.path.read_bytes())


def test_a_file_that_stands_as_it_was_read_is_not_changed(source):
    assert look_for_external_change(source) is None


def test_what_another_program_changed_is_told_key_by_key(source):
    digest = changed(source, "4,000", "4,500")
    found = look_for_external_change(source)
    assert found is not None and found.readable and not found.faults and found.digest == digest
    assert found.moved == (KeyChange(("axles", "front", "rating"), "4,000 lb", "4,500 lb"),)


def test_an_entry_that_cannot_be_read_is_told_with_its_line_and_the_rest_can_be_used(source):
    digest = changed(source, "4,000 lb", "4,000 parsecs")
    found = look_for_external_change(source)
    assert found is not None and found.readable and found.digest == digest
    (told,) = found.faults
    assert told.startswith("truck.toml:3: axles.front.rating: ") and "4,000 parsecs" in told
    assert found.moved == (KeyChange(("axles", "front", "rating"), "4,000 lb", "4,000 parsecs"),)


def test_a_file_that_can_no_longer_be_read_is_known_by_its_digest(source):
    digest = changed(source, '"4,000 lb"', '"4,000 lb')
    found = look_for_external_change(source)
    assert found is not None and not found.readable and found.digest == digest
    assert found.troubles[0].startswith("truck.toml:3: the text isn't closed")


def test_a_file_that_is_gone_or_no_file_any_more_says_so(source):
    source.path.unlink()
    assert look_for_external_change(source) == ("", (), ("there is no such file or folder",), ())
    source.path.mkdir()
    found = look_for_external_change(source)
    assert found == ("", (), ("truck.toml: this is a folder; accepted: a file",), ())
