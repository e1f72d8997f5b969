"""Kinds of piece an autumn fair shows, as invented stock: what it is made of, where and when such things were made, and
what one can see on them. Dates are broad trade knowledge (common practice, no source); no real piece is described."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Kind:
    """One kind of piece. `sizes` are (role, least, most) in cm; `years` the years a sound label may centre on."""

    noun: str
    material: str
    field: str
    places: tuple[str, ...]
    years: tuple[int, int]
    sizes: tuple[tuple[str, float, float], ...]
    seen: tuple[str, ...]
    price: tuple[int, int]


def _kinds(field: str, table: str) -> list[Kind]:
    kinds = []
    for line in table.strip().splitlines():
        noun, material, places, years, sizes, seen, price = (part.strip() for part in line.split("|"))
        first, last = (int(year) for year in years.split("-"))
        measures = []
        for size in sizes.split(","):
            role, span = size.split()
            least, most = span.split("-")
            measures.append((role, float(least), float(most)))
        low, high = (int(sum_) for sum_ in price.split("-"))
        kinds.append(
            Kind(noun, material, field, tuple(places.split("/")), (first, last), tuple(measures),
                 tuple(words.strip() for words in seen.split(";")), (low, high))
        )  # fmt: skip
    return kinds


PEWTER = _kinds("pewter", """
flagon | pewter | English | 1720-1790 | height 24-33 | domed lid with a chairback thumbpiece; a spreading foot; a scroll handle with a ball terminal; a knopped lid | 380-1200
tankard | pewter | English/Scottish | 1740-1820 | height 14-19 | a tulip-shaped body; a flat lid; a plain drum, one fillet above the foot; a ram's-horn thumbpiece | 180-620
charger | pewter | English/German | 1690-1770 | diameter 38-56 | a broad rim with a single reed; hammered booge; knife scratches in the well; three touches on the back | 290-1400
plate | pewter | English/French/Dutch | 1730-1800 | diameter 21-25 | a plain rim; a single reed at the edge; an owner's triad on the rim; a wavy edge | 60-190
porringer | pewter | English | 1700-1760 | diameter 12-15 | one pierced ear; a bellied bowl; a boss in the base | 240-760
measure | pewter | English/Scottish | 1780-1850 | height 7-21 | a bellied body; a bud thumbpiece; a lidless bulbous form; a plain strap handle | 70-480
candlestick | pewter | English/Flemish | 1770-1840 | height 17-26 | a baluster stem; a push-rod ejector; a broad drip pan; a knopped stem on a round base | 90-340
spoon | pewter | Dutch/English | 1680-1740 | length 16-19 | a round bowl; a slip-topped stem; a rat-tail under the bowl; a trifid end | 45-160
salt cellar | pewter | English | 1690-1780 | height 5-8 | a capstan form; gadrooning round the foot; a deep well | 110-390
tobacco jar | pewter | Dutch | 1760-1830 | height 12-17 | an inner presser with a knob; bands of turning; a flat cover | 85-260
inkstand | pewter | English | 1770-1840 | width 13-20 | two hinged flaps; a drawer with a brass knob; a pounce pot and a well inside | 95-310
basin | pewter | English/Irish | 1720-1800 | diameter 26-36 | a flat reeded rim; a domed centre; steep sides | 120-420
beaker | pewter | German/Dutch | 1740-1820 | height 9-14 | flared sides; turned bands below the lip; a moulded foot | 60-220
""")  # fmt: skip

BRASS = _kinds("metalware", """
candlestick | brass | English | 1720-1780 | height 16-26 | a petal base; a seamed stem cast in two halves; a square base with cut corners; a knopped stem; a side ejector | 140-620
chamberstick | brass | English | 1780-1840 | diameter 13-17 | a ring handle; a slide ejector; an oblong pan | 60-210
warming pan | brass | English/Dutch | 1740-1820 | length 95-118 | a turned fruitwood handle; a pierced and engraved lid; an iron ferrule; a scratched star on the lid | 90-340
tobacco box | brass | Dutch | 1740-1790 | length 14-18 | an oval form; engraved scenes of harbour life; copper panels top and bottom; a perpetual calendar on the base | 180-640
fender | brass | English | 1790-1840 | length 90-140 | a serpentine front; three rows of piercing; paw feet; an iron bottom plate | 180-590
andiron | brass and iron | English/French | 1700-1790 | height 38-62 | an urn finial; a scrolled foot; a faceted knop; a wrought billet bar | 240-980
door knocker | brass | English | 1830-1890 | height 15-24 | a dolphin clapper; a draped wreath; the striking plate present | 60-190
inkstand | brass | French/English | 1830-1890 | width 18-32 | a pair of glass wells; a pen rest; scrolled feet | 85-290
trivet | brass and iron | English | 1780-1840 | height 24-33 | a pierced top with hearts; a turned wooden handle; a hooked rail for the fender | 70-240
wall sconce | brass | Dutch | 1680-1740 | height 28-44 | a repoussé reflector; one drip tray and nozzle; flowers in high relief | 390-1500
snuffer tray | brass | English | 1730-1790 | length 17-24 | an hourglass outline; three small feet; a loop handle | 80-260
table bell | bronze | Flemish/German | 1550-1590 | height 9-14 | a band of cast leaves; a baluster handle; an iron clapper | 280-1200
mortar | bronze | English/Flemish | 1600-1690 | height 10-18 | two square handles; fillets below the lip; a band of fleurs-de-lis; a flared rim | 260-1400
figure | bronze | French | 1850-1890 | height 24-62 | a brown patina; an integral base; a founder's number under the base | 350-2400
inkwell | bronze | Italian/French | 1840-1890 | height 9-16 | a hinged cover; three paw feet; a glass liner | 110-420
tazza | bronze | French | 1840-1890 | diameter 22-34 | a pair of loop handles; a shallow bowl with a classical frieze; a black marble plinth | 180-540
card tray | bronze | French | 1870-1900 | width 18-28 | a leaf outline; a lizard crawling on the rim; a red-brown patina | 70-220
letter rack | brass | English | 1870-1910 | height 14-20 | three pierced divisions; four bun feet; a Gothic outline | 55-170
stick stand | brass and iron | English | 1860-1910 | height 58-66 | a loose drip pan; six divisions; reeded uprights | 140-390
coal scuttle | brass | English | 1840-1900 | height 34-48 | a helmet form; a swing handle; riveted seams | 90-280
snuff box | brass | English/Dutch | 1740-1800 | length 7-11 | a combination lock with two dials; a shoe outline; engraved initials | 110-360
""")  # fmt: skip

COPPER = _kinds("metalware", """
kettle | copper | English/Dutch | 1790-1860 | height 24-34 | a brass acorn knop; a gooseneck spout; dovetailed seams; a swing handle | 80-260
coal box | copper | English | 1860-1900 | height 38-52 | a hinged lid; a shovel at the back; embossed bosses | 120-310
jug | copper | English | 1820-1880 | height 18-36 | a haystack form; a strap handle with a shaped rivet plate; a wired rim | 70-230
water pitcher | copper | French/Dutch | 1780-1850 | height 24-40 | a long neck; an iron handle; tinned inside | 80-240
lantern | copper | English | 1850-1900 | height 32-54 | four glazed sides; a vented crown; a hinged door with a bull's-eye pane | 140-480
cistern | copper | Dutch/French | 1740-1800 | height 36-52 | a brass tap; a shell-shaped basin below; a domed cover | 260-740
warming pan | copper | French/English | 1780-1850 | length 90-112 | a wrought-iron handle; a pierced lid with a rosette; a brass rivet at the hinge | 85-240
tobacco jar | copper and brass | Dutch | 1780-1840 | height 14-20 | a turned brass finial; a lead presser; engraved bands | 90-260
umbrella stand | copper | English | 1890-1910 | height 56-66 | hammered panels; a wired rim; two drop rings | 90-280
tray | copper | English | 1890-1910 | length 34-58 | a raised border of fish; a hammered ground; two cut-out grips | 120-420
log bin | copper | Dutch | 1800-1860 | height 32-44 | a pair of brass lion's-mask handles; three paw feet; a rolled rim | 180-460
""")  # fmt: skip

KITCHEN = _kinds("kitchen", """
saucepan | copper | English/French | 1830-1890 | diameter 12-28 | an iron handle with three rivets; a stamped ducal number; a lid with its own handle; dovetailed bottom | 45-190
jelly mould | copper | English | 1850-1900 | height 10-17 | a castellated form; stamped with a pattern number; a ring of towers; a fluted dome | 70-310
fish kettle | copper | English | 1840-1890 | length 46-68 | a pierced drainer with two handles; brass side handles; a fitted cover | 160-420
skimmer | brass and iron | English | 1730-1800 | length 42-58 | a pierced bowl; a flattened handle with a hook; three copper rivets | 50-180
ladle | brass and iron | English/Dutch | 1720-1800 | length 38-54 | a deep round bowl; a rat-tail hook; a handle with punched initials | 40-150
toasting fork | wrought iron | English/Scottish | 1740-1820 | length 46-72 | three prongs; a twisted stem; a heart in the handle | 50-190
gridiron | wrought iron | English | 1720-1790 | length 48-66 | a round revolving top; penny feet; a hanging loop | 90-280
skillet | bronze | English | 1660-1720 | diameter 15-24 | three splayed feet; a founder's motto cast on the handle; a strengthening rib below the handle | 240-820
cauldron | bronze | English/Irish | 1550-1600 | height 22-34 | three cabriole feet; two angular lugs; a casting seam under the base | 390-1200
nutmeg grater | tinplate | English | 1840-1890 | length 9-15 | a hinged box for the nut; a wire handle; a coffin form | 35-120
spice box | tinplate | English | 1840-1890 | diameter 16-21 | six wedge-shaped boxes; a grater in the middle; a hasp; japanned black with gilt lining | 80-240
chopper | steel | English | 1820-1880 | width 14-22 | a beech handle; a crescent blade; a smith's stamp | 30-110
coffee mill | brass and iron | French/English | 1790-1850 | height 20-32 | a crank with a wooden knob; a small drawer; a screw clamp | 80-290
waffle iron | wrought iron | Dutch/Flemish | 1700-1780 | length 62-84 | a pair of engraved plates; long arms with a hooked catch; a pattern of hearts | 110-360
kitchen scales | brass and iron | English | 1860-1910 | width 38-58 | a round pan; a set of seven bell weights; the beam stamped with its capacity | 60-210
preserving pan | brass | English/Dutch | 1780-1860 | diameter 28-42 | an iron swing handle; a rolled rim; a spun body; hammered sides | 55-190
sugar nips | steel | English | 1780-1840 | length 20-26 | a sprung joint; a turned stand with a spike; a thumb guard | 45-170
pepper mill | iron and brass | French | 1850-1900 | height 8-14 | a cup-shaped hopper; a small drawer; a folding crank | 45-140
trivet | wrought iron | English/Irish | 1740-1810 | height 14-28 | three penny feet; a triangular top; a scrolled handle | 60-220
""")  # fmt: skip

IRON = _kinds("metalware", """
rushlight holder | wrought iron | English/Welsh/Irish | 1740-1820 | height 18-30 | an oak block base; a counterbalance candle socket; a knopped pivot; a twisted stem | 130-480
fireback | cast iron | English/Flemish | 1650-1710 | height 56-84 | a basket of flowers; a rope-twist border; an allegorical figure under a canopy | 340-1300
door lock | iron | German/English | 1680-1760 | length 24-38 | a pierced brass cover plate; two bolts; its key; blued springs | 180-640
padlock | iron | English | 1760-1840 | height 9-16 | a screw key; a ball form; a hinged drop over the keyhole | 60-210
strong box | iron | German | 1620-1690 | length 34-72 | a pierced inner lid with mermaids; bands and rivets; a false escutcheon; carrying handles | 950-4200
key | steel | French/English | 1690-1770 | length 9-17 | a pierced bow; a stepped collar; a comb-cut bit | 70-380
fire tools | steel | English | 1780-1840 | length 68-82 | a set of three; facetted stems; urn finials; a pierced shovel | 180-620
poker | steel | English | 1790-1850 | length 68-80 | a bun finial; a spiral stem; a square working end | 35-110
footman | steel and brass | English | 1780-1830 | height 28-36 | cabriole front legs; a pierced apron; a carrying slot at each side | 180-490
door stop | cast iron | English | 1850-1900 | height 22-38 | a lion standing; a foundry number behind; old black paint; a sheaf of corn | 60-210
boot scraper | cast iron | English | 1840-1890 | width 28-42 | a tray base; two scrolled uprights; griffin supports | 80-260
money box | cast iron | English | 1880-1910 | height 13-18 | a building with a slot in the roof; the screw present; worn gilding | 70-220
betty lamp | wrought iron | German | 1760-1830 | height 14-20 | a swivel lid; a hook and spike; a twisted hanger | 60-190
curfew | brass | Dutch | 1680-1720 | height 34-42 | repoussé fruit and flowers; a carrying handle; riveted edges | 480-1400
candle box | tinplate | English | 1830-1880 | length 36-46 | a hinged cover; two hanging straps; old black japanning | 75-190
tole tray | painted tin | Welsh/French | 1790-1840 | length 52-76 | a pierced gallery; sprays of flowers on a black ground; a gilt border | 140-520
coffee pot | painted tin | French | 1810-1850 | height 24-32 | a side spout; flowers on a red ground; a straight handle of turned wood | 120-360
""")  # fmt: skip

CLOCKS = _kinds("clocks", """
carriage clock | gilt brass | French | 1860-1900 | height 13-20 | a lever escapement; a leather travelling case; a repeat button; a white enamel dial | 480-1900
mantel clock | gilt bronze and marble | French | 1830-1880 | height 32-54 | a silk suspension; an eight-day movement striking on a bell; an enamel chapter ring; a seated figure with a lyre | 650-2400
lantern clock | brass | English | 1690-1730 | height 36-41 | dolphin frets; a single hand; a verge escapement; a thirty-hour movement | 1900-4800
longcase clock | oak with brass dial | English | 1730-1790 | height 198-224 | a thirty-hour movement; a brass dial with cast spandrels; a calendar aperture; a flat-topped hood | 900-3200
wall clock | mahogany and brass | English | 1830-1880 | diameter 34-42 | a fusee movement; a painted iron dial; a cast brass bezel | 420-1300
skeleton clock | brass | English | 1850-1890 | height 28-44 | a fusee and chain; a pierced silvered chapter ring; a glass dome on a marble base | 620-2100
barometer | mahogany and brass | English | 1800-1860 | height 92-104 | a silvered brass dial; a thermometer box; a level at the base | 240-780
pocket watch | silver | English | 1850-1890 | diameter 4.4-5.4 | a key-wound lever movement; an enamel dial with seconds; hallmarked Chester for the case | 140-420
table clock | gilt brass | German | 1620-1680 | height 9-14 | a hexagonal case; a verge and balance; glazed sides; three silver feet | 3900-9800
clock garniture | bronze and marble | French | 1860-1890 | height 38-52 | a pair of urns with the clock; an eight-day movement; a bell strike | 580-1700
""")  # fmt: skip

SILVER = _kinds("silver", """
salver | silver | English | 1755-1790 | diameter 18-31 | a shell and scroll border; three hoof feet; an engraved crest in the centre | 420-1700
mug | silver | English | 1750-1790 | height 9-13 | a baluster body; a leaf-capped handle; a spreading foot | 380-980
caddy spoon | silver | English | 1795-1835 | length 6-9 | a shell bowl; a bright-cut handle; a leaf bowl with a tendril handle | 90-290
cream jug | silver | English | 1770-1810 | height 9-14 | a helmet body; a beaded rim; a square foot | 180-480
sauce boat | silver | English | 1755-1780 | length 17-22 | three shell feet; a flying scroll handle; a cut rim | 480-1200
vinaigrette | silver | English | 1805-1845 | length 2.8-4.2 | a gilt interior; a pierced and engraved grille; engine-turned lid | 180-520
table spoon | silver | Scottish/Irish/English | 1765-1815 | length 20-23 | an Old English pattern; an engraved initial; a bottom-struck mark | 60-170
candlestick | sheffield plate | English | 1785-1825 | height 24-32 | copper showing at the edges; a detachable nozzle; a gadrooned border | 120-360
tray | sheffield plate | English | 1795-1830 | length 44-68 | a let-in shield; two leafy handles; a rolled lead-filled edge | 190-520
coffee pot | sheffield plate | English | 1775-1810 | height 26-33 | a seam behind the handle; a fruitwood handle; a beaded edge | 180-460
egg cruet | sheffield plate | English | 1800-1830 | height 17-24 | six cups; a ring handle; gilt insides to the cups | 140-340
teapot | electroplate | English | 1855-1900 | height 14-19 | an engraved fern pattern; a hinged cover; an insulated handle | 55-160
toast rack | electroplate | English | 1870-1905 | length 13-18 | seven bars; ball feet; a loop handle | 35-95
claret jug | glass and electroplate | English | 1875-1905 | height 24-31 | a star-cut base; a bearded mask on the spout; a hinged cover | 160-440
""")  # fmt: skip

CERAMICS = _kinds("ceramics", """
tankard | stoneware with pewter lid | German | 1740-1800 | height 22-30 | a hinged lid with a ball thumbpiece; incised flowers in blue; a pewter footrim | 190-620
jug | stoneware with silver mount | English | 1800-1840 | height 17-25 | hunting scenes in relief; a plain rim mount; a brown dip to the upper half | 120-360
flask | faience with pewter screw cap | German | 1730-1790 | height 18-26 | a six-sided body; manganese flowers; a ring to the cap | 220-680
inkstand | porcelain with gilt bronze mount | French | 1830-1880 | width 18-30 | three wells; a scrolled base; flower sprays on a white ground | 240-820
plate | delftware | English | 1740-1780 | diameter 22-35 | a blue landscape; a brown-edged rim; three peg marks below | 110-420
vase | porcelain with gilt bronze mount | French | 1850-1890 | height 26-48 | a turquoise ground; a pierced rim; a square plinth | 320-1200
mustard pot | stoneware with pewter lid | German/Flemish | 1780-1840 | height 9-13 | a salt glaze over blue; a loop handle; a pulled spout | 70-210
bowl | creamware | English | 1770-1810 | diameter 18-28 | a beaded rim; a turned foot; transfer-printed ships | 120-390
tobacco jar | delftware with brass lid | Dutch | 1750-1800 | height 24-32 | a tobacco name in a cartouche; a domed brass cover; blue scrolls | 480-1500
jug | creamware | English | 1790-1820 | height 16-24 | a printed ship; a strap handle; black transfer prints | 180-560
coffee pot | pearlware | English | 1780-1815 | height 22-28 | a domed cover; blue chinoiserie; an entwined handle | 160-480
""")  # fmt: skip

GARDEN = _kinds("garden", """
garden urn | cast iron | English | 1850-1900 | height 44-86 | a campana form; an egg-and-dart rim; a square plinth; a pair of loop handles | 180-980
garden bench | cast iron | English | 1850-1890 | width 118-168 | a fern pattern; a slatted wooden seat; a diamond of the registration office on the back rail; scrolled arms | 620-2200
cistern | lead | English | 1730-1790 | width 74-132 | strapwork panels; a cast shield; an old brass tap; rosettes on the front | 900-3800
sundial | bronze | English | 1730-1800 | diameter 19-31 | a pierced gnomon; engraved with sixteen points; a motto round the edge | 280-980
garden figure | lead | English | 1740-1800 | height 72-118 | a shepherd boy leaning on a stump; an iron armature; old weathering | 1400-5200
watering can | copper | English | 1850-1900 | height 32-44 | a long spout; a brass rose; two handles | 90-260
planter | lead | English | 1880-1915 | width 36-58 | panels of ribbon and husk; a rolled rim; drain holes in the base | 240-620
fountain | bronze | Italian/French | 1870-1900 | height 64-112 | a boy with a dolphin; a green patina; a lead pipe to the mouth | 980-4200
jardiniere | brass | Dutch | 1850-1900 | diameter 22-38 | lion's-mask handles; three ball feet; an embossed belly | 70-220
garden roller | cast iron | English | 1840-1880 | width 46-62 | a counterweighted handle; spoked ends; a foundry name in relief | 120-340
weathervane | copper | English/French | 1860-1900 | height 58-96 | a running fox; an iron spindle; traces of gilding | 380-1400
bird bath | lead | English | 1900-1915 | height 62-78 | a shallow fluted bowl; a pair of doves on the rim; a baluster stem | 320-760
""")  # fmt: skip

BY_STAND = {
    "1": PEWTER, "2": COPPER + KITCHEN, "3": BRASS + IRON, "4": BRASS, "5": KITCHEN, "6": IRON, "7": CLOCKS,
    "8": SILVER, "9": CERAMICS, "10": GARDEN, "11": BRASS + COPPER, "12": BRASS + PEWTER + IRON + KITCHEN, "13": COPPER + BRASS,
}  # fmt: skip
