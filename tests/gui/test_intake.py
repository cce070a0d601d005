"""Intake: ways into a case, series with what is wrong, the density curve."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent

from app.models.density_table import DensityTable
from app.models.series_table import SeriesTable
from engine.base.errors import InputError
from engine.image.density import DEFAULT_CURVE
from engine.space.point import NamedPoint
from tests.support.cases import small_case

pytestmark = pytest.mark.gui


def series(**changes):
    plain = {
        "uid": "1.2.3", "modality": "CT", "description": "Planning", "patient_name": "A^B", "patient_id": "7",
        "study_date": "20260102", "files": 40, "problem": "", "note": "", "over_problem": "",
    }  # fmt: skip
    return SimpleNamespace(**{**plain, **changes})


def found(folder, *rows):
    return SimpleNamespace(folder=folder, series=rows, other_files=2, damaged=())


def test_without_a_case_the_ways_in_are_shown_with_buttons(bare_window):
    intake = bare_window.shelf.get("intake")
    assert intake.welcome.isVisible()
    assert all(b.isVisible() for b in intake.welcome.demonstrations.values())
    assert not bare_window.stage.isVisible()
    assert "medical device" in bare_window.strip.findChild(object, "caution").text()


def test_a_dropped_folder_is_searched_and_each_series_says_what_is_wrong(bare_window, qtbot, answer, tmp_path):
    rows = (series(), series(uid="1.2.4", problem="slice 12 is missing between 30.0 and 36.0 mm"))
    answer("FindSeries", lambda request, report: found(request.folder, *rows))
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(tmp_path))])
    copy, left, none = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    bare_window.dropEvent(QDropEvent(QPointF(10, 10), copy, mime, left, none))
    panel = bare_window.shelf.get("intake").series
    qtbot.waitUntil(lambda: panel.model.rowCount() == 2)
    assert "1 can be opened" in panel.count.text()
    panel.table.selectRow(0)
    assert panel.open.isEnabled()
    panel.table.selectRow(1)
    assert not panel.open.isEnabled()
    assert "slice 12 is missing" in panel.why.text()


def test_a_folder_that_cannot_be_read_says_why(bare_window, qtbot, answer, tmp_path):
    def refuse(request, report):
        raise InputError("it holds no file", request.folder, "Choose another folder.")

    answer("FindSeries", refuse)
    bare_window.open_path(tmp_path)
    panel = bare_window.shelf.get("intake").series
    qtbot.waitUntil(lambda: "holds no file" in panel.count.text())
    assert "Choose another folder" in panel.count.text()
    assert bare_window.strip.text.text() == ""  # said once


def test_a_folder_without_a_series_says_what_to_do(bare_window, qtbot, tmp_path):
    (tmp_path / "shut").mkdir()
    (tmp_path / "shut" / "letter.txt").write_text("nothing to see")
    bare_window.open_path(tmp_path / "shut")
    words = bare_window.shelf.get("intake").series.count
    # The reader of DICOM is loaded with the first folder, which takes a while on a busy machine.
    qtbot.waitUntil(lambda: "not DICOM" in words.text(), timeout=30000)
    advice = "Choose a folder that holds a CT series as DICOM files; folders within it are searched, too."
    assert words.text() == f"0 series, 0 can be opened. 1 file is not DICOM. {advice}"
    hurt = SimpleNamespace(folder="", series=(), other_files=0, damaged=("a.dcm",))
    bare_window.shelf.get("intake").series.show_found(hurt)
    assert words.text().endswith(
        "1 DICOM file is damaged. Copy or export the damaged files again, or choose a folder "
        "that holds a CT series as DICOM files."
    )
    bare_window.shelf.get("intake").series.show_found(found("", series()))
    assert words.text() == "1 series, 1 can be opened. 2 files are not DICOM."


def test_opening_a_series_makes_a_case_in_a_file(bare_window, qtbot, answer, tmp_path, monkeypatch):
    import app.core.keeper as keeper

    monkeypatch.setattr(keeper, "default_folder", lambda: tmp_path / "cases")
    case = small_case()
    answer("FindSeries", lambda request, report: found(request.folder, series()))
    answer(
        "OpenSeries",
        lambda request, report: SimpleNamespace(patient=case.patient, image=case.image, notes=("2 slices resorted",)),
    )
    bare_window.open_path(tmp_path)
    panel = bare_window.shelf.get("intake").series
    qtbot.waitUntil(panel.open.isEnabled)
    panel.open.click()
    qtbot.waitUntil(lambda: bare_window.context.workspace.case is not None)
    qtbot.waitUntil(lambda: bare_window.station.name == "outline")
    assert bare_window.stage.isVisible()
    assert list((tmp_path / "cases").glob("*.halfshade"))
    assert "synthetic" in bare_window.windowTitle()
    assert bare_window.context.settings.recent()
    bare_window.close_case()
    assert bare_window.context.workspace.case is None
    assert bare_window.station.name == "intake"


def test_volumes_are_read_from_a_structure_set_that_lies_beside_the_images(
    bare_window, qtbot, answer, tmp_path, monkeypatch
):
    import app.core.keeper as keeper

    monkeypatch.setattr(keeper, "default_folder", lambda: tmp_path / "cases")
    case = small_case()
    image = case.image.but(frame_of_reference_uid="1.2.9")
    beside = series(modality="RTSTRUCT", problem="no CT", paths=("/x/rs.dcm",), frame_of_reference_uid="1.2.9")
    answer("FindSeries", lambda request, report: found(request.folder, series(paths=(), frame_of_reference_uid=""), beside))
    answer("OpenSeries", lambda request, report: SimpleNamespace(patient=case.patient, image=image, notes=()))
    marker = NamedPoint("BB", (1.0, 2.0, 3.0), "MARKER")
    read = SimpleNamespace(volumes=case.volumes, notes=("1 line left out.",), points=(marker,))
    answer("ReadStructures", lambda request, report: read)
    bare_window.open_path(tmp_path)
    panel = bare_window.shelf.get("intake").series
    qtbot.waitUntil(panel.open.isEnabled)
    panel.open.click()
    qtbot.waitUntil(lambda: bare_window.strip.button.text() == "Read its volumes")
    bare_window.strip.button.click()
    workspace = bare_window.context.workspace
    qtbot.waitUntil(lambda: len(workspace.case.volumes) == 3)
    assert "1 line left out" in bare_window.strip.text.text()
    assert "Points to set up at and to normalise to: BB." in bare_window.strip.text.text()
    assert workspace.case.points == (marker,)
    bare_window.shelf.get("intake").structures.read(tmp_path)
    qtbot.waitUntil(lambda: len(workspace.case.volumes) > 3)
    assert workspace.case.points == (marker,)
    workspace.undo_stack.undo()
    assert [v.name for v in workspace.case.volumes] == ["Body", "PTV", "SpinalCord"]
    bare_window.close_case()


def test_a_demonstration_opens_with_one_button(bare_window, qtbot, answer, tmp_path, monkeypatch):
    import app.core.keeper as keeper

    monkeypatch.setattr(keeper, "default_folder", lambda: tmp_path / "cases")
    answer("MakeDemonstration", lambda request, report: small_case().patient)
    answer("PlanDemonstration", lambda request, report: small_case())
    button = bare_window.shelf.get("intake").welcome.demonstrations["thorax"]
    button.click()
    assert not button.isEnabled()
    qtbot.waitUntil(lambda: bare_window.context.workspace.case is not None)
    assert bare_window.context.workspace.case.patient.synthetic
    qtbot.waitUntil(button.isEnabled)


def test_the_density_curve_is_edited_and_nonsense_refused(window):
    window.go("intake")
    panel = window.shelf.get("intake").density
    model = panel.model
    assert model.setData(model.index(1, 1), "0.95")
    assert window.context.workspace.case.curve.g_cm3[1] == 0.95
    assert "edited at intake" in window.context.workspace.case.curve.source
    before = window.context.workspace.case.curve
    assert not model.setData(model.index(2, 0), "5000")
    assert "must ascend" in window.strip.text.text()
    assert window.context.workspace.case.curve is before
    panel.reset.click()
    assert window.context.workspace.case.curve == DEFAULT_CURVE
    window.context.workspace.undo_stack.undo()
    assert model.curve == before


def test_tables_keep_the_rules_of_models(qtmodeltester):
    density, table = DensityTable(), SeriesTable()
    density.show(DEFAULT_CURVE)
    assert density.add_row(3)
    assert density.rowCount() == len(DEFAULT_CURVE.hu) + 1
    assert density.remove_row(4)
    assert not density.add_row(99) or density.rowCount() == len(DEFAULT_CURVE.hu) + 1
    table.show((series(), series(problem="x")))
    assert table.data(table.index(0, 3)) == "2026-01-02"
    qtmodeltester.check(density)
    qtmodeltester.check(table)


def test_a_series_that_can_only_lie_over_another_says_so_and_broken_ones_keep_their_reason(qapp):
    table = SeriesTable()
    table.show((series(problem="it is not a CT series"), series(problem="cut off", over_problem="cut off as well")))
    assert table.index(0, 5).data() == "can be laid over a planning CT"
    assert table.index(1, 5).data() == "cut off"


def test_the_series_list_over_an_open_case_fits_a_small_screen(window, qtbot, answer, tmp_path):
    answer("FindSeries", lambda request, report: found(request.folder, series(modality="MR", problem="no CT")))
    window.open_path(tmp_path)
    panel = window.shelf.get("intake").series
    qtbot.waitUntil(lambda: panel.model.rowCount() == 1)
    assert panel.over.isVisible()
    assert window.minimumSizeHint().width() <= 1280


def test_a_density_is_typed_as_it_is_shown_and_what_is_no_number_is_refused_in_words(window):
    window.go("intake")
    station, workspace = window.shelf.get("intake"), window.context.workspace
    model, before = station.density.model, workspace.case.curve
    first = model.index(0, 0)
    assert first.data() == "−1000"
    assert not model.setData(first, first.data())  # left as it was
    assert workspace.case.curve is before
    assert model.setData(first, "−1010 HU")
    assert workspace.case.curve.hu[0] == -1010
    told = window.context.messages.kept
    for text in ("nan", "inf", "dense"):
        assert not model.setData(first, text)
        assert text in told[-1].text
    assert workspace.case.curve.hu[0] == -1010
