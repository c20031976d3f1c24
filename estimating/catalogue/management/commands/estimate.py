"""`manage.py estimate SPEC.json [--catalogue FILE] [--on DAY]`: a spec file in, the whole estimate as JSON out.

The spec file is described by `estimating/engine/schemas/spec-1.json`, the catalogue file by `catalogue-1.json`. Without
a catalogue the starter one is used, whose prices are invented. Needs no database. Ends with 2 when a file is wrong,
each wrong field named on the error channel with what it should be.
"""

import json
from argparse import ArgumentTypeError
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from estimating.engine.afloat.righting import righting_curves
from estimating.engine.catalogue_file import load_catalogue, starter_catalogue
from estimating.engine.pipeline import estimate
from estimating.engine.reasons import SpecFaults
from estimating.engine.result_file import estimate_as_dict
from estimating.engine.spec_file import load_spec

WRONG_FILE = 2


class Command(BaseCommand):
    help = "Estimate a dock from a spec file and print everything worked out as JSON."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("spec", metavar="SPEC.json", type=Path, help="the spec file")
        parser.add_argument(
            "--catalogue", metavar="FILE", type=Path, help="a catalogue file; else the starter catalogue"
        )
        parser.add_argument("--on", metavar="DAY", type=_day, help="look at prices as of this day; else today")

    def handle(self, *args: Any, **options: Any) -> None:
        on = options["on"] or date.today()
        spec_path, catalogue_path = options["spec"], options["catalogue"]
        with _naming_fields(spec_path):
            spec = load_spec(_read(spec_path))
        with _naming_fields(catalogue_path):
            catalogue, rules = (
                load_catalogue(_read(catalogue_path), on=on) if catalogue_path else starter_catalogue(on=on)
            )
        with _naming_fields(spec_path):
            answer = estimate(spec, catalogue, rules)
        righting = righting_curves(answer.design, catalogue, rules)
        self.stdout.write(json.dumps(estimate_as_dict(answer, righting=righting), indent=2, ensure_ascii=False))


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ArgumentTypeError(f"{text!r} is not a day such as 2026-04-30") from None


def _read(path: Path) -> Any:
    try:
        return json.loads(path.read_text(encoding="utf-8-sig"))
    except OSError as error:
        raise CommandError(f"{path}: cannot be read: {error.strerror}.", returncode=WRONG_FILE) from error
    except UnicodeDecodeError as error:
        raise CommandError(f"{path}: is not text in UTF-8.", returncode=WRONG_FILE) from error
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise CommandError(f"{path}: not JSON at {where}: {error.msg}.", returncode=WRONG_FILE) from error
    except RecursionError as error:
        raise CommandError(f"{path}: nested too deep.", returncode=WRONG_FILE) from error


@contextmanager
def _naming_fields(path: Path | None) -> Iterator[None]:
    try:
        yield
    except SpecFaults as error:
        lines = [f"{path}: {fault.field or 'the file'}: {fault.message}" for fault in error.faults]
        raise CommandError("\n".join(lines), returncode=WRONG_FILE) from error
