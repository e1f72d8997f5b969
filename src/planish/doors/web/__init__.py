"""The web door: `planish serve`. One process, the open log, a JSON API under /api/v1, and the built front end.

`app` puts it together; `guarding` stands before every request; `looking` says who looks and asks `access`;
`routes` one module per area; `models` what goes in and out; `showing` turns stories into models; `failing` gives every
refusal one shape.
"""
