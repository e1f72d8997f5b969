"""How we reason: pure functions from records and facts to records. No file, clock, chance or network.

One folder a question:
reading (what does the label claim) · admitting (does the rule book allow it) · routing (who must see it) ·
measuring (what does a look say) · weighing (which years follow) · contradicting (what cannot all be true) ·
settling (what do the opinions decide) · wording (what can everyone sign) · seating (who may sit) ·
matching (what was done in like cases) · trending (rates, and what may have been missed).
May import: `planish.records`, `planish.facts` (look-ups only), numpy and scipy where a module needs them.
"""
