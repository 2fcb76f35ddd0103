"""Photographs come in once, safe and unchanged, and an intake is taken back as one step."""

from __future__ import annotations

import datetime as dt
import hashlib
import time
from pathlib import Path

import pytest
from PIL import Image

from planebench.catalog.catalog import Catalog
from planebench.catalog.checking import check
from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.import_types import Destination, FileFate, Progress
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.photographs import PhotographFields, PinPosition
from planebench.errors import CatalogError
from planebench.trade.terms import Stage
from tests.catalog.shots import rested, shot


@pytest.fixture
def card(tmp_path: Path) -> Path:
    """A camera's card with three photographs."""
    for number in range(3):
        shot(tmp_path / "card" / f"PL-{number:04}.jpg", seed=number)
    return tmp_path / "card"


def test_the_bytes_in_the_vault_are_those_of_the_camera(empty_catalog: Catalog, card: Path) -> None:
    result = import_photographs(empty_catalog, [card])

    for outcome, path in zip(result.outcomes, sorted(card.iterdir()), strict=True):
        assert outcome.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
        assert empty_catalog.originals.read(outcome.sha256, ".jpg") == path.read_bytes()
    assert check(empty_catalog) == ()


def test_half_an_intake_is_not_taken_back_while_the_rest_comes_in(
    empty_catalog: Catalog, tmp_path: Path
) -> None:
    for number in range(20):
        shot(tmp_path / "many" / f"{number}.jpg", seed=number)
    refusals: list[str] = []

    def take_back(_progress: Progress) -> None:
        with pytest.raises(CatalogError) as refused:
            empty_catalog.history.undo()
        refusals.append(refused.value.happened)

    import_photographs(empty_catalog, [tmp_path / "many"], report=take_back)

    assert len(refusals) == 20
    assert "while its photographs are still being added" in refusals[0]
    assert len(empty_catalog.photographs.unfiled()) == 20
    assert empty_catalog.history.undo().words == "Undone: 20 photographs added"
    assert empty_catalog.photographs.unfiled() == ()


def test_photographs_of_a_tool_keep_their_order_and_stage(
    empty_catalog: Catalog, tool_id: ToolId, card: Path
) -> None:
    import_photographs(empty_catalog, [card], to=Destination(tool=tool_id, stage=Stage.FINISHED))
    shot(card / "PL-0003.jpg", seed=3)
    import_photographs(empty_catalog, [card], to=Destination(tool=tool_id, stage=Stage.FINISHED))

    tool = empty_catalog.tools.one(tool_id)
    names = [photo.original_name for photo in tool.photographs]
    assert names == ["PL-0000.jpg", "PL-0001.jpg", "PL-0002.jpg", "PL-0003.jpg"]
    assert [photo.position for photo in tool.photographs] == [0, 1, 2, 3]
    assert {photo.stage for photo in tool.photographs} == {Stage.FINISHED}
    assert {photo.batch for photo in tool.photographs} == {tool.batch}


def test_the_same_card_twice_is_stored_once(empty_catalog: Catalog, card: Path) -> None:
    first = import_photographs(empty_catalog, [card])
    again = import_photographs(empty_catalog, [card])

    assert again.count(FileFate.ALREADY_IN_CATALOG) == 3
    assert [o.photograph for o in again.outcomes] == [o.photograph for o in first.outcomes]
    assert len(list(empty_catalog.originals.files())) == 3


def test_the_same_picture_twice_in_one_intake_is_stored_once(
    empty_catalog: Catalog, tmp_path: Path
) -> None:
    paths = [shot(tmp_path / f"{name}.jpg", seed=7) for name in "abcd"]

    result = import_photographs(empty_catalog, paths)

    assert [o.became for o in result.outcomes] == [FileFate.NEW, *[FileFate.ALREADY_IN_CATALOG] * 3]
    assert len({o.photograph for o in result.outcomes}) == 1


def test_a_whole_intake_is_taken_back_and_brought_again_as_one(
    empty_catalog: Catalog, tmp_path: Path
) -> None:
    for number in range(20):
        shot(tmp_path / "card" / f"{number}.jpg", seed=number)
    import_photographs(empty_catalog, [tmp_path / "card"])

    back = empty_catalog.history.undo()

    assert back.words == "Undone: 20 photographs added"
    assert empty_catalog.photographs.unfiled() == ()
    assert len(empty_catalog.history.redo().photographs) == 20
    assert len(empty_catalog.photographs.unfiled()) == 20


def test_a_pin_set_while_photographs_came_in_keeps_them_from_being_taken_back(
    empty_catalog: Catalog, tool_id: ToolId, tmp_path: Path
) -> None:
    for number in range(20):
        shot(tmp_path / "card" / f"{number}.jpg", seed=number)
    defect = empty_catalog.defects.add(tool_id, kind="chip", severity="slight").id

    def set_pin(progress: Progress) -> None:
        if progress.done == 1 and progress.latest.photograph is not None:
            spot = PinPosition(x=0.5, y=0.5, balloon_x=0.6, balloon_y=0.6)
            empty_catalog.pins.add_defect(progress.latest.photograph, defect, spot)

    import_photographs(
        empty_catalog, [tmp_path / "card"], to=Destination(tool=tool_id), report=set_pin
    )

    with pytest.raises(CatalogError, match="something added since depends on it"):
        empty_catalog.history.undo()
    assert len(empty_catalog.tools.one(tool_id).photographs) == 20
    assert check(empty_catalog) == ()


def test_what_was_taken_back_or_binned_is_recorded_again_from_the_vault(
    empty_catalog: Catalog, card: Path
) -> None:
    result = import_photographs(empty_catalog, [card])
    empty_catalog.history.undo()
    again = import_photographs(empty_catalog, [card])
    empty_catalog.photographs.bin([o.photograph for o in again.outcomes if o.photograph])
    third = import_photographs(empty_catalog, [card])

    assert again.count(FileFate.NEW) == third.count(FileFate.NEW) == result.count(FileFate.NEW) == 3
    assert check(empty_catalog) == ()


def test_a_stopped_intake_keeps_what_is_in_and_goes_on_later(
    empty_catalog: Catalog, tmp_path: Path
) -> None:
    for number in range(60):
        shot(tmp_path / "card" / f"{number:02}.jpg", seed=number)
    told: list[Progress] = []
    stopped = import_photographs(
        empty_catalog,
        [tmp_path / "card"],
        report=told.append,
        stopped=lambda: len(told) >= 5,
    )
    rest = import_photographs(empty_catalog, [tmp_path / "card"])

    assert stopped.stopped
    assert 5 <= stopped.count(FileFate.NEW) < 60
    assert rest.count(FileFate.ALREADY_IN_CATALOG) == stopped.count(FileFate.NEW)
    assert rest.count(FileFate.NEW) == 60 - stopped.count(FileFate.NEW)
    assert check(empty_catalog) == ()


def test_progress_tells_of_each_photograph_once_it_is_recorded(
    empty_catalog: Catalog, card: Path
) -> None:
    recorded: list[bool] = []

    def look(progress: Progress) -> None:
        photograph = progress.latest.photograph
        assert photograph is not None
        recorded.append(empty_catalog.photographs.one(photograph).original_name.startswith("PL-"))

    import_photographs(empty_catalog, [card], report=look)

    assert recorded == [True, True, True]


def test_progress_counts_to_the_end(empty_catalog: Catalog, card: Path) -> None:
    told: list[Progress] = []
    import_photographs(empty_catalog, [card], report=told.append)

    last = told[-1]
    assert [p.done for p in told] == [1, 2, 3]
    assert (last.total, last.new, last.seconds_left) == (3, 3, 0)


def test_camera_and_time_are_read_and_a_time_without_zone_is_this_machines(
    empty_catalog: Catalog, tmp_path: Path
) -> None:
    at = dt.datetime(2026, 3, 14, 9, 26, 53)  # noqa: DTZ001 -- a camera's clock has no zone
    path = shot(tmp_path / "a.jpg", at=at, camera="Orrin D20")
    outcome = import_photographs(empty_catalog, [path]).outcomes[0]

    assert outcome.photograph is not None
    photograph = empty_catalog.photographs.one(outcome.photograph)
    assert photograph.taken_at == at.astimezone()
    assert photograph.camera == "Orrin D20"


@pytest.mark.parametrize("suffix", [".jpg", ".png", ".tif", ".webp", ".heic", ".bmp"])
def test_each_format_comes_in_under_its_own_suffix(
    empty_catalog: Catalog, tmp_path: Path, suffix: str
) -> None:
    path = tmp_path / f"a{suffix}"
    Image.new("RGB", (64, 48), (90, 60, 30)).save(path)
    import_photographs(empty_catalog, [rested(path)])

    photograph = empty_catalog.photographs.unfiled()[0]
    assert (photograph.width, photograph.height) == (64, 48)
    assert photograph.suffix == suffix


def test_a_picture_with_the_wrong_suffix_is_kept_under_the_right_one(
    empty_catalog: Catalog, tmp_path: Path
) -> None:
    shot(tmp_path / "a.png")
    (tmp_path / "a.png").rename(tmp_path / "a.jpg")
    import_photographs(empty_catalog, [tmp_path / "a.jpg"])

    assert [path.suffix for path in empty_catalog.originals.files()] == [".png"]


def test_a_file_just_written_is_waited_for_until_it_rests(
    empty_catalog: Catalog, tmp_path: Path
) -> None:
    path = shot(tmp_path / "a.jpg")
    path.touch()
    began = time.monotonic()
    result = import_photographs(empty_catalog, [path])

    assert result.count(FileFate.NEW) == 1
    assert time.monotonic() - began > 1.5


def test_a_batch_in_the_bin_takes_nothing(
    empty_catalog: Catalog, batch: BatchId, card: Path
) -> None:
    empty_catalog.batches.bin(batch)

    with pytest.raises(CatalogError, match="was deleted"):
        import_photographs(empty_catalog, [card], to=Destination(batch=batch))


def test_frames_of_a_burst_are_gathered_with_the_best_first(
    empty_catalog: Catalog, tmp_path: Path
) -> None:
    at = dt.datetime(2026, 3, 14, 9, 0, 0)  # noqa: DTZ001 -- a camera's clock has no zone
    shot(tmp_path / "card" / "1.jpg", seed=4, size=(320, 240), at=at)
    shot(tmp_path / "card" / "2.jpg", seed=4, size=(640, 480), at=at + dt.timedelta(seconds=1))
    shot(tmp_path / "card" / "3.jpg", seed=9, size=(320, 240), at=at + dt.timedelta(seconds=2))
    result = import_photographs(empty_catalog, [tmp_path / "card"])

    small, large, _ = (outcome.photograph for outcome in result.outcomes)
    assert result.look_alikes == ((large, small),)


def test_photographs_can_be_changed_after_they_came_in(empty_catalog: Catalog, card: Path) -> None:
    result = import_photographs(empty_catalog, [card])
    fields: PhotographFields = {"view": "sole"}
    ids = [o.photograph for o in result.outcomes if o.photograph is not None]
    empty_catalog.photographs.change(ids, **fields)

    assert {photo.view for photo in empty_catalog.photographs.unfiled()} == {"sole"}
