"""A table without its source is refused."""

import numpy as np
import pytest

from engine.base.errors import InputError
from engine.base.sources import Source, read_table


def write(tmp_path, text):
    path = tmp_path / "t.csv"
    path.write_text(text)
    return path


def test_columns_texts_gaps_and_header_are_read(tmp_path):
    path = write(
        tmp_path, "# title: Water\n# author: A\n# year: 2000\n# known: read\n# units are cm2/g\nname,e,mu\na,1,0.5\nb,2,\n"
    )
    table = read_table(path)
    assert table.source.title == "Water"
    assert table.source.known == "read"
    assert "cm2/g" in table.source.note
    assert table.text("name") == ("a", "b")
    assert table["e"].tolist() == [1, 2]
    assert np.isnan(table["mu"][1])


@pytest.mark.parametrize("head", ["", "# title: x\n", "# known: read\n", "# title: x\n# known: rumour\n"])
def test_an_incomplete_header_is_refused(tmp_path, head):
    with pytest.raises(InputError):
        read_table(write(tmp_path, head + "a,b\n1,2\n"))


def test_a_source_needs_a_title():
    with pytest.raises(InputError, match="title"):
        Source("", "read")
