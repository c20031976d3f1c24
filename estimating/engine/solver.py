"""The one door to HiGHS: on one core, so that it answers alike every time, and without a word on standard output."""

import highspy


class QuietSolver(highspy.Highs):
    def enableCallbacks(self) -> None:  # noqa: N802 - the library's name
        """Hush it before its first word: it greets when the callbacks are switched on."""
        self.setOptionValue("output_flag", False)
        self.setOptionValue("threads", 1)
        super().enableCallbacks()
