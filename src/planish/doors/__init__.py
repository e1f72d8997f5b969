"""How people get in and papers get out: `cli` (one file per command), `papers` (lists in; sheets, slips, labels out),
`web` (JSON and pages), `floor` (the tablet app).
May import: `planish.errands`, `planish.records`.
"""
