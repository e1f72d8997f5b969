"""People: who takes part, who may sign in, who may see and do what, and where a second person is asked."""
