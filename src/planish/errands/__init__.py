"""What people do: one module per errand, each a few verbs over the rooms below.

listing · checking · examining · settling · labelling · moving · recalling · reporting · keeping, and `clock`, `keys`,
`wiring`, which hand time, identity, chance and packs to the pure rooms.
May import: every room below; never a door.
"""
