"""Lists in, papers out.

Holds: `lists/` (spreadsheets and typed lists in), `tables` (CSV, XLSX, JSON out), `printing` (PDF by typst templates),
`ribbon` (the year ribbon as SVG). May import: `planish.errands`, `planish.records`.
"""
