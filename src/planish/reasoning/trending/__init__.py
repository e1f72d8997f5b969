"""What can be said of a whole fair, and what may have been missed? Counts -> intervals that can be printed.

Holds: rates and funnels (`rates`), missed faults and blind samples (`missed`), what votes are worth and who gets a
second look (`odds`), proper scores against known truths (`scores`), latent classes and calibration as side views
(`latent`, `calibration`). No rank, no person's rate.
May import: `planish.records`, numpy and scipy. Start with `rates.py`.
"""
