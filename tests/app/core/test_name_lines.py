"""Long names on several lines: every letter stays, lines keep to their room, joints are broken first."""

from hypothesis import given
from hypothesis import strategies as st

from app.core.name_lines import fitted, wrapped


@given(st.text(st.characters(codec="ascii", exclude_categories=["C"]), max_size=64), st.integers(1, 30))
def test_no_letter_is_lost_and_no_line_is_too_long(name, room):
    lines = wrapped(name, room, len)
    assert "".join(lines) == name
    assert all(len(line.rstrip()) <= room or len(line) == 1 for line in lines)


def test_lines_end_after_joints_where_they_can():
    assert wrapped("PTV_6000_boost-left lobe", 10, len) == ["PTV_6000_", "boost-left ", "lobe"]
    assert wrapped("least (49.70 Gy)", 11, len) == ["least ", "(49.70 Gy)"]
    assert wrapped("A" * 25, 10, len) == ["A" * 10, "A" * 10, "A" * 5]
    assert wrapped("short", 10, len) == ["short"]
    assert wrapped("", 10, len) == [""]


def test_type_gets_smaller_only_where_there_are_many_lines():
    def fit(names):
        return fitted(
            names, 60, lambda px, lines: px * sum(map(len, lines)), lambda px: lambda s: px * len(s), 40, (10, 5, 2)
        )

    assert fit(["abc"]) == (10, [["abc"]])
    assert fit(["abcdefgh"])[0] == 10
    assert fit(["abcdefgh"] * 4) == (5, [["abcdefgh"]] * 4)
    assert fit(["abcdefgh"] * 400)[0] == 2
