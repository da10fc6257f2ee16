"""The machinery itself: every outcome is worked out here."""

import pytest


@pytest.fixture(autouse=True)
def worked_out(swept_anew):
    pass
