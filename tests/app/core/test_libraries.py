"""A missing system library is named with the package that brings it."""

import pytest

from app.core.libraries import words_for


@pytest.mark.parametrize(
    ("message", "package"),
    [
        ("libEGL.so.1: cannot open shared object file: No such file or directory", "libegl1"),
        ("libGL.so.1: cannot open shared object file", "libgl1"),
        ("libxkbcommon.so.0: cannot open", "libxkbcommon0"),
        ("libstrange.so.7: cannot open", "apt-file search libstrange.so.7"),
    ],
)
def test_the_package_is_named(message, package):
    assert package in words_for(ImportError(message))


def test_other_import_errors_ask_for_a_new_install():
    assert "Install it again" in words_for(ImportError("No module named 'pyqtgraph'"))
