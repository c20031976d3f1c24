"""What the office does with records: clients, sites, water, permits, jobs, specs."""

from .clients import record_client, save_client
from .comparing import compare_specs
from .jobs import JobHasEnded, copy_job, end_job, log_call, open_job, reopen_job, save_job, take_enquiry
from .levels import DepthsChangedMeanwhile, record_reading, save_depths, save_levels, strike_out_reading
from .permits import record_permit, save_permit
from .placing import place_from_site, spec_at_site
from .sites import record_site, save_site, set_work_windows
from .specs import (
    SpecChangedMeanwhile,
    SpecFrozen,
    catalogue_names,
    copy_spec,
    export_spec,
    follow_site,
    freeze_spec,
    import_spec,
    next_revision,
    save_spec,
    spec_of,
    start_spec,
)
from .standing import Standing, standing_of, with_papers

__all__ = [
    "DepthsChangedMeanwhile",
    "JobHasEnded",
    "SpecChangedMeanwhile",
    "SpecFrozen",
    "Standing",
    "catalogue_names",
    "compare_specs",
    "copy_job",
    "copy_spec",
    "end_job",
    "export_spec",
    "follow_site",
    "freeze_spec",
    "import_spec",
    "log_call",
    "next_revision",
    "open_job",
    "place_from_site",
    "record_client",
    "record_permit",
    "record_reading",
    "record_site",
    "reopen_job",
    "save_client",
    "save_depths",
    "save_job",
    "save_levels",
    "save_permit",
    "save_site",
    "save_spec",
    "set_work_windows",
    "spec_at_site",
    "spec_of",
    "standing_of",
    "start_spec",
    "strike_out_reading",
    "take_enquiry",
    "with_papers",
]
