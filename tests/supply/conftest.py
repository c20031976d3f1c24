import pytest

from contractor.company.models import Staff
from tests.quotes.conftest import no_press, quick_press  # noqa: F401


@pytest.fixture
def owner(shop_owner: Staff) -> Staff:
    """The owner of a firm with a catalogue."""
    return shop_owner
