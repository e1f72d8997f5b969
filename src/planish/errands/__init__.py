"""What people do: one module per errand, each a few verbs over the rooms below, in one folder for each kind of work.

opening · people · intake · panel · words · hall · seals · record · telling. `opening` hands time, identity, chance and packs
to the pure rooms.
May import: every room below; never a door.
"""
