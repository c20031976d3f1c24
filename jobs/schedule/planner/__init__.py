"""Which crew does which stage on which days: pure Python over HiGHS, no database.

`plan(problem, *, seconds, progress=None) -> Plan` and `moved(problem, plan, change) -> tuple[Moved, ...]`
stand in `solve`; what goes in and comes out in `problem`.
"""
