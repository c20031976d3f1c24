from django.urls import path

from jobs.schedule.views import board, crews, job, logs, moves, plans, rules

app_name = "schedule"
urlpatterns = [
    path("schedule/", board.board, name="board"),
    path("schedule/wall-chart.pdf", board.paper, name="paper"),
    path("schedule/calendar/<slug:secret>/crew.ics", board.feed, name="feed"),
    path("schedule/plan/", plans.start, name="plan"),
    path("schedule/plan/<int:run_id>/", plans.run, name="run"),
    path("schedule/plan/<int:run_id>/stop/", plans.stop, name="stop_run"),
    path("schedule/plan/<int:run_id>/fix/", plans.fix, name="fix_run"),
    path("schedule/stages/<int:stage_id>/move/", moves.move, name="move"),
    path("schedule/stages/<int:stage_id>/unpin/", moves.unpin, name="unpin"),
    path("schedule/jobs/<str:number>/", job.job, name="job"),
    path("schedule/jobs/<str:number>/plan/", job.plan, name="job_plan"),
    path("schedule/jobs/<str:number>/deposit/", job.deposit, name="deposit"),
    path("schedule/jobs/<str:number>/risk/", job.risk, name="risk"),
    path("schedule/jobs/<str:number>/delay/", job.delay, name="delay"),
    path("schedule/jobs/<str:number>/<slug:stage>/done/", job.done, name="done"),
    path("schedule/jobs/<str:number>/<slug:stage>/not-done/", job.not_done, name="not_done"),
    path("schedule/jobs/<str:number>/<slug:stage>/hold/", job.hold, name="hold"),
    path("schedule/jobs/<str:number>/<slug:stage>/let-go/", job.release, name="release"),
    path("schedule/crews/", crews.crews, name="crews"),
    path("schedule/crews/absences/<int:absence_id>/take-back/", crews.take_back, name="take_back"),
    path("schedule/crews/equipment/<int:equipment_id>/", crews.repair, name="repair"),
    path("schedule/crews/people/<int:member_id>/", crews.member, name="member"),
    path("schedule/crews/<int:crew_id>/", crews.crew, name="crew"),
    path("schedule/crews/<int:crew_id>/calendar/", crews.calendar, name="crew_calendar"),
    path("schedule/rules/", rules.rules, name="rules"),
    path("schedule/log/", logs.log, name="log"),
    path("schedule/log/<slug:kind>/<int:line_id>/strike-out/", logs.strike_out, name="strike_out"),
]
