"""Pages about records. A view looks up, binds, calls one service, answers."""
