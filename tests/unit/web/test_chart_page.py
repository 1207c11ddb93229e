"""The rope chart's own page, and the chart as it is served."""

import re
import xml.etree.ElementTree as ET

import pytest

from tests.unit.web.conftest import Served

ROPES = ("KQ-1%20hoist", "KQ-1%20trolley", "KQ-4%20hoist")


@pytest.mark.parametrize("rope", ROPES)
def test_every_key_of_the_drawing_is_told_in_the_list(shared: Served, rope: str) -> None:
    client = shared.browser("planner")
    page = client.get(f"/ropes/{rope}/chart").text
    told = set(re.findall(r'<article id="([^"]+)"', page))
    for width in (1100, 380):
        svg = ET.fromstring(client.get(f"/ropes/{rope}/chart.svg?width={width}").text)
        drawn = {
            key for one in svg.iter() for key in one.attrib.get("data-keys", "").split(" ") if key
        }
        assert drawn
        assert drawn <= told


def test_the_list_points_back_to_derivations_that_are_there(shared: Served) -> None:
    client = shared.browser("planner")
    page = client.get("/ropes/KQ-1%20hoist/chart").text
    links = sorted(set(re.findall(r'href="(/ropes/[^"]+/(?:why|inspections)/[^"]+)"', page)))
    assert len(links) > 5
    assert [link for link in links if client.get(link).status_code != 200] == []


def test_whoever_counts_in_feet_reads_feet(shared: Served) -> None:
    client = shared.browser("inspector")
    token = shared.csrf(client)
    client.post("/me", data={"csrf": token, "units": "us", "theme": "auto"})
    page = client.get("/ropes/KQ-1%20hoist/chart").text
    assert "data-feet" in page
    # by hand: mark 7 lies at 298.2 m, 298.2 / 0.3048 = 978.3 ft
    mark = page.split('id="mark/7"')[1].split("</article>")[0]
    assert "978.3 ft" in mark
    client.post("/me", data={"csrf": token, "units": "metric", "theme": "auto"})


def test_a_rope_that_is_not_there_is_said_to_be_missing(shared: Served) -> None:
    assert shared.browser("planner").get("/ropes/no%20such/chart").status_code == 404
