"""Snapshots of the screens: a text and a picture of each, in a file of its own."""

import re

import pytest
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode


class ScreenPicture(SingleFileSnapshotExtension):
    """An SVG as the program exports it, with the ids that change from run to run made stable."""

    _write_mode = WriteMode.TEXT
    file_extension = "svg"

    def serialize(self, data, **_):
        return re.sub(r"terminal-\d+", "terminal", data)


class ScreenText(SingleFileSnapshotExtension):
    """The screen as lines of text, which a person reads in a review."""

    _write_mode = WriteMode.TEXT
    file_extension = "txt"


@pytest.fixture
def picture(snapshot):
    return snapshot.use_extension(ScreenPicture)


@pytest.fixture
def text(snapshot):
    return snapshot.use_extension(ScreenText)


@pytest.fixture(autouse=True)
def our_faults_are_seen(monkeypatch):
    """What must not happen fails a test, and is not told to the person as it would be."""
    monkeypatch.setenv("PLANNER_TRACEBACK", "1")


@pytest.fixture(autouse=True)
def own_state_folder(tmp_path_factory, monkeypatch):
    """The list of projects opened last is the test's own, not that of whoever runs it."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path_factory.mktemp("state")))
