"""The table of the kinds of change: every kind that a file may name is in it, and what it says leads somewhere."""

from typing import get_args

from planner.project.change_kinds import KINDS
from planner.project.models.changes import ChangeKind


def test_each_kind_that_a_file_may_have_stands_once_in_the_table_and_in_its_order():
    assert [one.name for one in KINDS] == list(get_args(ChangeKind))
