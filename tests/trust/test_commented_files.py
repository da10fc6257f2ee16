"""A few of the two hundred hand-commented files of `commented_files.py`, each through fifty edits."""

import random

import pytest
from trust.commented_files import comments, file, wrongs


@pytest.mark.parametrize("seed", range(1000, 1006))
def test_every_comment_stays_where_it_stood_through_fifty_edits(seed):
    assert not list(wrongs(seed, 50))


def test_the_files_have_comments_at_every_kind_of_place():
    texts = [file(random.Random(seed)) for seed in range(1000, 1010)]
    assert sum(len(comments(text)) for text in texts) > 80
    for piece in ("]] ", "\r\n", "\ufeff", "'''", '"""', "= {", "[[", ".e"):
        assert any(piece in text for text in texts), piece
