// The 256 words for eight bits each: the ledger's own, in the same order; tests/floor compares them.
export const DAYWORDS: readonly string[] = (
  "acorn adze alder alloy amber anchor andiron angle anvil apple apron arbor arch arrow ashlar auger awl badge ball balm banner barge barley barrel " +
  "basin basket beacon beaker beam bell bench birch bishop blade boat bobbin bolt borax bowl bracket braid brass bridge brine bristle bronze brush " +
  "bucket buckle buffer burin cabin candle canvas carbon cask caster cedar chalice chalk charger chase chest chime chisel cinder clamp clapper clay " +
  "clock cloth clover cobalt coffer coil collar comb compass copper coral cork cotton cove cradle crane crest crown crucible cruet cup cypress dagger " +
  "dairy damask dart deal desk dial die dish dove drawer drum duct dusk eagle easel ebony edge elbow elder ember enamel ewer fable falcon feather " +
  "fence fern ferrule ferry file filigree fillet finial firedog flagon flange flask flax flint flute flux foil font forge fork foundry frame fringe " +
  "fulcrum furnace gable galley gallon garnet gauge gilt girder glass glue goblet granite grate gravel grid groove guild gusset hammer handle harbour " +
  "hasp hatch hazel hearth helm heron hinge hook hoop horn husk inkwell ingot iron island ivy jar jasper jetty jewel jug kale kernel kettle key kiln " +
  "knob knot ladle lamp lantern lathe latten lattice laurel lead ledger lens lever lily linen lintel lock loom lute magnet mallet mantel maple marble " +
  "mast medal mercer mill mint mirror mortar mould mug nail needle nickel nozzle oak oar ochre olive onyx orchard otter oven paddle palm pan parcel " +
  "pearl pedestal pepper pewter pillar pin pitcher plane plate plinth plum porringer press quarry quartz quill raft rasp reed"
).split(" ");
