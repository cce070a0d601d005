"""An error reads as one clear sentence and what to do."""

from engine.base.errors import InputError, UserError


def test_what_where_and_what_to_do_make_one_text():
    error = InputError("slice 41 is missing", "series 7", "Copy the folder again.")
    assert isinstance(error, UserError)
    assert str(error) == "series 7: slice 41 is missing. Copy the folder again."
    assert str(InputError("it is empty")) == "it is empty"
    assert str(InputError("it is empty.", do="Fill it.")) == "it is empty. Fill it."
