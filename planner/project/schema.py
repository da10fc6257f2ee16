"""The JSON Schema of the project file, made from the models."""

from collections.abc import Iterator
from typing import Any

from planner.project.models.entry import Table
from planner.project.models.project import Project

TITLE = "A truck's project file"  # by which a schema of ours is known


def json_schema() -> dict[str, Any]:
    """A schema of draft 2020-12 with every entry's meaning; unknown keys are allowed, since they are kept."""
    for model in _models(Table):  # not built yet where nothing was read; pydantic before 2.14 fails over that here
        model.model_rebuild()
    schema = Project.model_json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema, "title": TITLE}


def _models(base: type[Table]) -> Iterator[type[Table]]:
    for model in base.__subclasses__():
        yield model
        yield from _models(model)
