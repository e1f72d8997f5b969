"""The command line: one file per command, loaded only when called, so that `planish --help` is quick.

Holds: `main` (the table of commands), `showing` (tables, JSON, progress), and a module per command whose `command`
is a click command. Exit codes: 0 done; 1 done, and something needs attention; 2 the input cannot be used;
3 a rule forbids it; 4 the log cannot take or give it; 70 a fault of planish itself.
May import: `planish.errands`, `planish.records`, `planish.doors.papers`.
"""
