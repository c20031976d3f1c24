"""What the catalogue writes, it reads back unchanged."""


import pytest

from estimating.catalogue import services
from estimating.catalogue.models import Item, Price
from estimating.catalogue.sheet.writing import csv_bytes, xlsx_bytes

pytestmark = pytest.mark.django_db
WRITERS = {"csv": csv_bytes, "xlsx": xlsx_bytes}


@pytest.fixture(params=["csv", "xlsx"])
def written(request):
    def write(**options) -> tuple[str, bytes]:
        return f"catalogue.{request.param}", WRITERS[request.param](services.catalogue_rows(**options))

    return write


def plan(file, by):
    name, content = file
    return services.plan_of(services.keep_upload(file_name=name, content=content, by=by))


def take_in(file, by):
    name, content = file
    upload = services.keep_upload(file_name=name, content=content, by=by)
    return services.apply_import(upload, seen=services.catalogue_digest(), by=by)


def test_it_finds_nothing_to_change_in_its_own_export(starter, owner, written):
    found = plan(written(), owner)
    assert found.bad_cells == []
    assert found.nothing_changes
    assert found.unchanged_items == Item.objects.count()
    assert found.unchanged_prices == Price.objects.count()
