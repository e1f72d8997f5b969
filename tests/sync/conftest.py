"""Fixtures for the floor: the small fair of the web door, made once and copied for each test."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from planish.doors.web.intakes import Intakes
from planish.doors.web.tablet import Floors
from planish.errands.opening.serving import Desk
from tests.web.fairs import IDS, PEOPLE, Served, served


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Served:
    """A fair that was made and closed again; its folder is copied, its application used again."""
    with served(tmp_path_factory.mktemp("template")) as made:
        _ = made.desk.fair.kit
    return made


def opened(template: Served, folder: Path) -> Served:
    """The fair in `folder` served by the template's application."""
    desk, app = Desk(folder), template.app
    desk.fair.__dict__["kit"] = template.desk.fair.kit
    app.state.desk, app.state.intakes, app.state.floors = desk, Intakes(desk), Floors(desk)
    fair = Served(folder, desk, app)
    for person in ("chair", *PEOPLE):
        fair.clients[person] = fair.let_in(IDS.get(person, person))
    return fair


@pytest.fixture
def fair(template: Served, tmp_path: Path) -> Iterator[Served]:
    """A small fair, fresh for each test."""
    shutil.copytree(template.folder, tmp_path / "fair")
    made = opened(template, tmp_path / "fair")
    yield made
    made.app.state.floors.close()
    made.app.state.desk.close()
