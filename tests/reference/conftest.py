"""The made pages, and the folders that they stand in and are made from."""

from pathlib import Path

import pytest

from planner.reference.pages import pages

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="session")
def docs():
    return ROOT / "docs"


@pytest.fixture(scope="session")
def rows_folder():
    return ROOT / "tests" / "published"


@pytest.fixture(scope="session")
def made(rows_folder):
    return pages(rows_folder)
