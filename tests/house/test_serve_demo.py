import os
import re
import socket
import subprocess
import sys
from collections.abc import Iterator
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path

import pytest
from django.conf import settings

HOUSE = Path(__file__).resolve().parents[2]

pytestmark = pytest.mark.skipif(settings.TEST_DATABASE == "postgres", reason="the demo lives in a SQLite file")


def free_port() -> int:
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return asked.getsockname()[1]


@pytest.fixture(scope="module")
def demo(tmp_path_factory) -> Iterator[tuple[int, str]]:
    """A demo in a scratch folder: its port, and what it said until it served."""
    scratch = tmp_path_factory.mktemp("demo")
    port = free_port()
    plain = {name: value for name, value in os.environ.items() if not name.startswith(("WHARFWRIGHT_", "DJANGO_"))}
    plain |= {
        "DJANGO_SETTINGS_MODULE": "contractor.settings",
        "WHARFWRIGHT_NO_BOOTSTRAP": "1",
        "WHARFWRIGHT_DATA": str(scratch / "data"),
        "WHARFWRIGHT_STATIC_ROOT": str(scratch / "static"),
    }
    command = [sys.executable, "manage.py", "demo", "--port", str(port)]
    with subprocess.Popen(command, cwd=HOUSE, env=plain, stdout=subprocess.PIPE, text=True) as serving:
        said = ""
        for line in serving.stdout:
            said += line
            if line.startswith("Open "):
                break
        yield port, said
        # Not SIGINT: a shell that runs us in the background makes its children deaf to it.
        serving.terminate()


def get(port: int, path: str) -> HTTPResponse:
    connection = HTTPConnection("127.0.0.1", port, timeout=20)
    connection.request("GET", path)
    return connection.getresponse()


def test_it_prints_the_address_and_the_logins(demo):
    port, said = demo
    assert f"Open http://127.0.0.1:{port}/" in said
    assert {"owner", "office"} <= set(re.findall(r"\w+", said.lower()))


def test_it_serves_the_sign_in_page_with_its_stylesheet(demo):
    port, _ = demo
    page = get(port, "/login/")
    assert page.status == 200
    assert "default-src 'self'" in page.headers["Content-Security-Policy"]
    (sheet,) = re.findall(r'href="(/static/css/app\.[0-9a-f]+\.css)"', page.read().decode())
    styled = get(port, sheet)
    assert styled.status == 200
    assert "immutable" in styled.headers["Cache-Control"]


def test_it_leads_a_stranger_to_sign_in(demo):
    port, _ = demo
    answer = get(port, "/")
    assert answer.status in (302, 303)
    assert answer.headers["Location"].startswith("/login/")
