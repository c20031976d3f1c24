"""What stands in the boxes of a page, read from the page as a browser would."""

from html.parser import HTMLParser

from django.test import Client as Browser

UNSENT = {"submit", "button", "file", "image"}


def boxes(browser: Browser, address: str, **typed) -> dict:
    """The boxes of every form in the page's main part, with some of them typed anew."""
    reader = _Boxes()
    reader.feed(browser.get(address).content.decode().partition("<main")[2])
    return {**reader.found, **typed}


class _Boxes(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: dict[str, str] = {}
        self.select = self.area = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        facts = dict(attrs)
        name, value = facts.get("name") or "", facts.get("value") or ""
        if tag == "input" and name and facts.get("type") not in UNSENT:
            if facts.get("type") not in ("checkbox", "radio") or "checked" in facts:
                self.found[name] = value or ("on" if facts.get("type") == "checkbox" else "")
        elif tag == "select":
            self.select = name
        elif tag == "option" and self.select and ("selected" in facts or self.select not in self.found):
            self.found[self.select] = value
        elif tag == "textarea":
            self.area, self.found[name] = name, ""

    def handle_endtag(self, tag: str) -> None:
        if tag == "select":
            self.select = ""
        if tag == "textarea":
            self.area = ""

    def handle_data(self, data: str) -> None:
        if self.area:
            self.found[self.area] += data.removeprefix("\r\n").removeprefix("\n")
