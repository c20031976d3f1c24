from uuid import uuid4

import pytest

from contractor.company.models import Staff
from estimating.quotes.documents import paper, shop_paper
from estimating.quotes.services import sending


@pytest.fixture
def owner(shop_owner: Staff) -> Staff:
    """The owner of a firm with a catalogue."""
    return shop_owner


@pytest.fixture
def no_press(monkeypatch) -> None:
    """Papers that cost nothing, each unlike every other, so that the one that is kept can be told."""
    monkeypatch.setattr(sending, "customer_paper", lambda *_, **__: uuid4().bytes)
    monkeypatch.setattr(sending, "shop_paper", lambda *_, **__: uuid4().bytes)


@pytest.fixture
def quick_press(monkeypatch) -> None:
    """Papers that are their own HTML: for tests about what becomes of a quote, not about how it looks."""
    for module in (paper, shop_paper):
        monkeypatch.setattr(module, "render_pdf", lambda html, **_: html.encode())
