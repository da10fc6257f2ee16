"""The JSON Schema of the project file, made from the models."""

from typing import Any

from planner.project.models.project import Project


def json_schema() -> dict[str, Any]:
    """A schema of draft 2020-12 with every entry's meaning; unknown keys are allowed, since they are kept."""
    schema = Project.model_json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema, "title": "A truck's project file"}
