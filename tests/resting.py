"""What a record in a project's file rested on, as its diary keeps it."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from planner.project.models.work import RestedOn
from planner.project.rested_on import values_rested_on


def rested_on(path: Path, record: Mapping[str, Any]) -> dict[str, str]:
    """By a record's `rests`; its values stand in the file no more, and are known."""
    assert "rested_on" not in record
    values = values_rested_on(path, RestedOn.model_validate({"rests": record["rests"]}))
    assert values is not None
    return dict(values)
