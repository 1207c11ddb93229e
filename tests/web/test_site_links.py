"""No page of the site leads to a page that is not there."""

import html
import re

import httpx

from tests.unit.web.conftest import PASSWORD

#: What is followed elsewhere, or is the same page for hundreds of entries.
LEFT_OUT = re.compile(r"^/(static|field|api)/|/entries/|/why/(?!set-up)|\.pdf$|\.jsonl$|\.svg")


def test_every_link_leads_somewhere(site: str) -> None:
    """Also what the checks of every crane's set-up link to: how they come about."""
    with httpx.Client(base_url=site, headers={"origin": site}, follow_redirects=True) as client:
        client.post("/login", data={"login": "inspector", "password": PASSWORD})
        todo, seen, lost = ["/"], {"/"}, []
        while todo:
            path = todo.pop()
            answer = client.get(path)
            if answer.status_code != 200:
                lost.append((answer.status_code, path))
            if "html" not in answer.headers["content-type"]:
                continue
            for found in re.findall(r'href="(/[^"#]*)', answer.text):
                link = html.unescape(found)
                if link not in seen and not LEFT_OUT.search(link):
                    seen.add(link)
                    todo.append(link)
    assert lost == []
    assert sum("/why/set-up" in path for path in seen) > 50
    assert sum(path.startswith("/cranes/") for path in seen) == 7
