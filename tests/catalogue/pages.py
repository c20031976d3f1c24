"""What the tests of the pages share."""

import re

from django.urls import reverse

from estimating.catalogue.models import Item


def page(browser, name: str, *args, **query) -> str:
    answer = browser.get(reverse(f"catalogue:{name}", args=args), query)
    assert answer.status_code == 200, name
    return answer.content.decode()


def text_of(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html))


def item(code: str) -> Item:
    return Item.objects.get(code=code)
