"""Seeded faults: the label as it hangs, what is wrong, where that can be found, and what the panel sees at the table.

Each entry: stand | label | fault | severity | paper or table | outcome | claim side | years the panel gives | reason | looks |
what the panel would sign in place of the claim.
A claim side may name the words meant ("measure: 22 oz"); a side of which the label is silent is named with what it should say.
Looks are of the form kind:part:values or terms, several set apart by "&". Invented labels, all of them.
"""

TABLE = """
1 | Britannia metal teapot, English, c.1720, with a reeded body and a hinged cover. Height 16 cm. | date.material_too_early | 2 | paper | relabel | date | 1830-1870 | the alloy was sold under this name from about 1770, and the stamped number is of the 19th century | 
1 | Pewter charger, English, c.1650–1820, with a broad rim. Diameter 46 cm. | date.too_vague | 3 | paper | relabel | date | 1680-1720 | the broad rim is narrower in date than the label | 
1 | Pewter teapot of Britannia metal, English, c.1850, melon-fluted. Height 17 cm. | material.disagrees | 3 | paper | relabel | material | 1840-1860 | the label names two metals for one body | 
1 | Pewter tankard and cover, English, c.1700. A flat-lidded drum with ram's-horn thumbpiece. Height 18 cm. | state.unsaid_marriage | 2 | table | relabel | object | 1690-1720 | the cover rocks on the rim and its pin hole was moved | condition:cover:cond.marriage
1 | Pewter flagon, English, c.1690, engraved with a ship and scrolls. Height 27 cm. | state.unsaid_later_engraving | 2 | table | relabel | decoration | 1680-1710 | the engraving cuts through old scratches | condition::cond.later_engraving
1 | Set of twelve pewter plates, English, c.1760, one to match, owner's triad E over IM. Diameter 24 cm. | count.made_up | 2 | paper | relabel | count | 1750-1770 | eleven bear one touch and the twelfth another | members::p1=412,p2=409,p3=415,p4=411,p5=408,p6=413,p7=410,p8=414,p9=412,p10=411,p11=409,p12=517 | eleven and one to match
1 | Pewter charger engraved with a coat of arms, formerly the property of the Earls of Saltmere, English, c.1680. Diameter 45 cm. | provenance.arms | 2 | paper | relabel | provenance | 1670-1700 | the arms were borne by several families | 
1 | Pewter plate by Josiah Thornbeck, English, c.1740, with single-reeded rim. Diameter 23 cm. | maker.by_without_support | 2 | paper | relabel | maker | 1720-1760 | no touch can be read |  | attributed to
1 | Pewter dish, English, c.1700, hammered all over. Diameter 33 cm. | state.unsaid_forgery | 1 | table | remove | date | 1950-1990 | the touches are cast, not struck, and the wear is of acid | condition::cond.forgery & composition::Sn=92.1,Sb=7.2,Cu=0.7
1 | Pewter basin, c.1750, with a single-reeded rim. Diameter 31 cm. | label.no_place | 3 | paper | relabel | place | 1740-1770 | the label names no country |  | English
2 | Copper kettle with bakelite handle, English, c.1790, height 26 cm | date.part_too_early | 2 | paper | relabel | date | 1915-1935 | the handle material was made from 1909 | 
2 | Copper saucepan, English, c.1860, iron handle, diameter 20 cm | state.unsaid_retinning | 3 | table | relabel | object | 1850-1880 | the lining is bright new tin | condition::cond.retinning
2 | Copper jelly mould, English, Georgian, 1890, castellated, height 13 cm | date.dates_disagree | 3 | paper | relabel | date | 1880-1895 | the period ended sixty years before the year | 
2 | Copper charger, English, c.1700, chased with hunting dogs, diameter 41 cm | state.unsaid_embellished | 2 | table | relabel | decoration | 1700-1740 | the chasing is of the later 19th century | condition::cond.embellished | later chased
2 | Stainless steel fish kettle, English, c.1890, length 58 cm | date.material_too_early | 2 | paper | relabel | date | 1925-1945 | this steel was first cast in 1913 | 
2 | Copper preserving pan, English, c.1850, A/F, diameter 38 cm | state.vague | 3 | paper | relabel | state | 1840-1870 | the label does not say what the damage is |  | rim split and dented
2 | Unique copper jug, English, c.1840, haystack form, height 24 cm | word.praise | 3 | paper | relabel | puff | 1830-1860 | three like it stand in the hall | 
3 | Brass candlestick, English, 1743, height 21 cm (8¼ in), petal base. | date.too_exact | 3 | paper | relabel | date | 1735-1760 | no year stands on the piece | 
3 | Brass candlestick, English, c.1700, height 19 cm. The stem with a flattened knop. | state.unsaid_drilled | 2 | table | relabel | object | 1690-1720 | a hole for a flex runs through base and stem | condition::cond.drilled
3 | Brass kettle on stand, English, c.1760, height 31 cm. A swan-neck spout. | state.unsaid_replaced_part | 2 | table | relabel | object | 1750-1780 | the handle is of another alloy and its pins are threaded | condition:handle:cond.replaced_part & thread:handle:tpi=26,diameter=4.76
3 | Wrought iron strong box, German, c.1660, length 58 cm. With a screw-fixed lock plate, all parts of one date. | date.part_later | 2 | table | relabel | state | 1650-1670 | the screws of the lock plate have a standard thread of after 1841 | thread:lock plate:tpi=20,diameter=6.35 | the lock plate screws later
3 | Bronze mortar, English, c.1640, height 14 cm. Two square handles and a flared rim. | date.alloy_later | 2 | table | refer | date | 1780-1900 | the metal holds more zinc than such castings had | composition::Cu=66.1,Zn=32.4,Pb=1.1,Sn=0.4
3 | Brass andirons, pair, associated, English, c.1720, height 52 cm, with urn finials. | count.made_up | 2 | paper | relabel | count | 1710-1740 | the two were not cast from one pattern |  | matched pair
3 | Cast iron fireback, English, c.1660, height 71 cm, royal, with a lion mask. | word.praise | 3 | paper | relabel | puff | 1650-1690 | nothing on the plate speaks of a royal owner | 
4 | Brass inkstand, registered number 412 211, English, c.1870 – scrolled feet – length 21 cm | date.mark_too_early | 2 | paper | relabel | date | 1903-1910 | the number was given in 1903 | mark::registered=412211
4 | Brass fire screen, English, Regency, 1835 – pierced panel – height 74 cm | date.dates_disagree | 3 | paper | relabel | date | 1830-1840 | the label's period and year do not meet | 
4 | Brass tobacco box, Dutch, Georgian – engraved with ships – length 15 cm | date.period_abroad | 3 | paper | relabel | date | 1740-1780 | the period word belongs to another country | 
4 | Brass kettle, English, c.1850 – marked “Made in England” – height 25 cm | date.mark_too_early | 3 | paper | relabel | date | 1900-1930 | the words of origin came into use after 1887 | mark::words=Made in England
4 | Brass candlestick, English, c.1720 – square base, seamless stem – height 19 cm | state.unsaid_reproduction | 1 | table | remove | date | 1910-1940 | sand-cast in one piece from an old stick, with file marks inside | condition::cond.reproduction & composition::Cu=63.2,Zn=35.9,Pb=0.9
4 | Brass table bell, c.1570, a band of cast leaves, height 11 cm | label.no_place | 3 | paper | relabel | place | 1550-1590 | the label names no country |  | Flemish
4 | Brass tobacco box, engraved, Dutch, c.1760 – copper panels – length 16 cm | state.unsaid_later_engraving | 2 | table | relabel | decoration | 1750-1780 | the engraving runs over dents and stays bright within them | condition::cond.later_engraving
4 | Brass warming pan, possibly probably attributed to Nahum Orrick, English, c.1760 – length 108 cm | word.hedges_piled | 3 | paper | relabel | maker | 1750-1780 | three hedges say nothing | 
5 | Galvanised iron watering pot for the scullery, English, c.1800, 38 cm high | date.finish_too_early | 2 | paper | relabel | date | 1870-1910 | zinc coating by dipping was patented in 1836 and 1837 | 
5 | Copper saucepan, c.1700–1850, English, three rivets, 17 cm in diameter | date.too_vague | 3 | paper | relabel | date | 1830-1860 | the rivets and rolled edge belong to one generation | 
5 | Wrought iron gridiron, English, c.1740, revolving top, 61 cm long | state.unsaid_replaced_part | 2 | table | relabel | object | 1730-1770 | the handle is arc-welded to the frame | condition:handle:cond.replaced_part & condition:handle:cond.weld_repair
5 | Brass skimmer, English, c.1760, pierced bowl | label.no_measure | 4 | paper | relabel | measure | 1750-1780 | no size is given |  | length 54 cm
5 | Bronze skillet, English, c.1670, three splayed feet, 19 cm in diameter | state.unsaid_reduced | 2 | table | relabel | object | 1660-1700 | two of the feet were cut down | condition:foot:cond.reduced
5 | Aluminium jelly mould, French, c.1820, fluted, 12 cm high | date.material_too_early | 2 | paper | relabel | date | 1895-1920 | the metal was first parted from its ore in 1825 | 
5 | Toasting fork, English, c.1780, with a heart in the handle, 51 cm long | label.no_material | 2 | paper | relabel | material | 1770-1800 | the label names no material |  | wrought iron
5 | Assiette en étain, XVIIIe siècle, diamètre 23 cm | word.foreign_only | 4 | paper | relabel | object | 1740-1790 | the label stands in French alone | 
6 | Wrought iron rushlight holder, English. Counterbalance socket. Height 24 cm. | label.no_date | 2 | paper | relabel | date | 1740-1820 | the label gives no date |  | 
6 | Steel fire tools, English, c.1800, set of three with facetted stems. Length 74 cm. | state.unsaid_replaced_part | 2 | table | relabel | object | 1790-1820 | the shovel pan is of rolled sheet with a new rivet | condition:shovel:cond.replaced_part
6 | Cast iron door stop, English, c.1860, a lion. Height 27 cm. Reproduction. | object.not_admitted | 1 | paper | remove | date | 1960-1990 | the label itself says reproduction | 
6 | Painted tin coffee pot, French, c.1830. Flowers on a red ground. Height 28 cm. | state.unsaid_repainted | 2 | table | relabel | decoration | 1820-1850 | a second coat lies over worn edges and rust | condition::cond.repainted | later painted
6 | Cast iron money box, English, c.1890, a house with a slot in the roof. Height 15 cm. All original. | word.praise | 3 | paper | relabel | puff | 1885-1910 | the base plate screw is new | 
7 | Carriage clock, gilt brass, French, c.1880, with ivory handle. Lever escapement. Height 16 cm. | law.uk_ivory_2022 | 1 | paper | refer | material | 1870-1890 | no number of registration is on the label or at the office | 
7 | Mantel clock, ormolu, gilt spelter, French, c.1870, with a seated huntress. Height 41 cm. | material.disagrees | 3 | paper | relabel | material | 1865-1885 | the casting is a zinc alloy, gilt | composition:case:Zn=97.8,Pb=1.6,Fe=0.6
7 | Lantern clock, brass, English, c.1700, dolphin frets and a single hand. Height 38 cm. | state.unsaid_replaced_part | 2 | table | relabel | object | 1690-1720 | the movement was made for an anchor and has a modern pillar screw | condition:movement:cond.replaced_part & thread:movement:pitch=0.7,diameter=4.0
7 | Skeleton clock, brass, English, c.1860, fusee and chain. Height 37 cm. A unique piece by a royal clockmaker. | word.praise | 3 | paper | relabel | puff | 1850-1880 | nothing on the plates supports the words | 
7 | Table clock, gilt brass, German, c.1640, a hexagonal case. Height 11 cm. | state.unsaid_regilding | 2 | table | refer | surface | 1630-1680 | the gilding is electrolytic over worn engraving | condition:case:cond.regilding & composition:case:Au=61.0,Cu=30.1,Zn=8.9
7 | Wall clock, mahogany and brass, English, 1851, fusee movement. Diameter 38 cm. | date.too_exact | 3 | paper | relabel | date | 1845-1870 | no year stands on dial or movement | 
8 | EPNS tray, English, George III. Two leafy handles. Length 47 cm. | date.finish_too_early | 2 | paper | relabel | date | 1860-1900 | plating by current was patented in 1840 | 
8 | Silver teapot, EPNS, English, c.1890. Height 15 cm. | material.disagrees | 2 | paper | relabel | material | 1880-1900 | the letters stand for plated nickel silver | 
8 | Sheffield plate tray, English, c.1900. Gadrooned edge. Length 52 cm. | date.term_out_of_use | 2 | paper | relabel | date | 1880-1910 | fused plate had been given up by then | 
8 | Sheffield plate candlestick, English, c.1720. Height 23 cm. | date.material_too_early | 2 | paper | relabel | date | 1785-1820 | fused plate was found in 1743 | 
8 | George I silver coffee pot, hallmarked London 1911, English. Height 22 cm. | date.marks_disagree | 2 | paper | relabel | date | 1911-1912 | the hallmark is of 1911 | 
8 | Silver salver, English, c.1760, hallmarked. Diameter 21 cm. | mark.bare_hallmark | 3 | paper | relabel | mark | 1755-1770 | the label does not say which marks | 
8 | Silver salver, hallmarked London 1762, English. Three hoof feet. Diameter 25 cm, 22 oz. | measure.which_ounce | 3 | paper | relabel | measure: 22 oz | 1762-1763 | the label does not say which ounce |  | 22 oz troy
8 | Silver jug, converted from a tankard, hallmarked London 1765, English, 1765. Height 20 cm. | law.hallmark_act | 1 | paper | remove | state | 1765-1880 | an added spout bears no mark of its own | 
8 | Nickel silver spoon, English, c.1790, Old English pattern. Length 18 cm. | date.material_too_early | 2 | paper | relabel | date | 1840-1880 | the alloy was not made in Europe before the 1820s | composition::Cu=61.0,Zn=20.5,Ni=18.5
8 | Chromium-plated cocktail shaker, English, Edwardian. Height 23 cm. | date.finish_too_early | 2 | paper | relabel | date | 1928-1939 | this plating was sold from the middle of the 1920s | 
8 | Sheffield plate tray, English, c.1800, rolled edge. Length 55 cm. | state.unsaid_replating | 2 | table | relabel | surface | 1795-1815 | a current has laid silver over the copper at the edges | condition::cond.replating
9 | Stoneware tankard with pewter lid, German, c.1770, incised flowers in blue. Height 25 cm. | state.unsaid_marriage | 2 | table | relabel | object | 1760-1790 | the lid was made for a wider neck | condition:lid:cond.marriage
9 | Delftware plate, English, c.1700–1850, a blue landscape. Diameter 23 cm. | date.too_vague | 3 | paper | relabel | date | 1750-1770 | the glaze and the landscape are of one generation | 
9 | Porcelain vase with gilt bronze mount, French, 1862. Turquoise ground. Height 34 cm. | date.too_exact | 3 | paper | relabel | date | 1855-1880 | no year stands on vase or mount | 
9 | Creamware jug, English, c.1800, a printed ship, A/F. Height 19 cm. | state.vague | 3 | paper | relabel | state | 1795-1815 | the label does not say what the damage is |  | two chips to the rim
9 | Delftware tobacco jar with brass lid, c.1760. Height 27 cm. | label.no_place | 3 | paper | relabel | place | 1750-1790 | the label names no country |  | Dutch
10 | Garden figure, spelter, French, c.1780, a boy with a hoop. Height 84 cm. | date.material_out_of_use | 3 | paper | relabel | date | 1860-1890 | castings of this metal belong to the next century | 
10 | Lead cistern, English, c.1740, with strapwork panels. Width 96 cm. | state.unsaid_reproduction | 1 | table | remove | date | 1920-1980 | the panels were cast from one another and the corners are gas-welded | condition::cond.reproduction & condition::cond.weld_repair
10 | Cast iron garden bench, registration diamond, English, c.1820, fern pattern. Width 142 cm. | date.mark_too_early | 2 | paper | relabel | date | 1858-1880 | diamonds were given from 1842 | 
10 | Bronze sundial, English, c.1740, pierced gnomon. Diameter 24 cm. | date.alloy_later | 2 | table | relabel | date | 1900-1950 | the plate is rolled brass of high zinc with traces of nothing else | composition::Cu=62.9,Zn=37.1
10 | Cast iron garden urn, English, c.1870, campana form. Height 61 cm. Unique. | word.praise | 3 | paper | relabel | puff | 1860-1890 | its pair stands beside it | 
11 | Brass chamberstick, English, Georgian, 1890, ring handle. Diameter 15 cm. | date.dates_disagree | 3 | paper | relabel | date | 1880-1900 | the period ended before the year | 
11 | Copper lantern, English, c.1870, four glazed sides. Height 43 cm. | state.unsaid_electrified | 3 | table | relabel | object | 1860-1890 | holes and a lamp holder for a flex | condition::cond.electrified
11 | Brass candlestick, English, c.1700, baluster stem. 21 cm high. | state.unsaid_reduced | 2 | table | relabel | object | 1690-1720 | the foot was turned down and the drip pan is gone | condition:foot:cond.reduced
11 | Brass wall sconce with porcelain bulb holder, Dutch, c.1700, repoussé. Height 36 cm. A/F. | state.vague | 3 | paper | relabel | state | 1690-1730 | the label does not say what the damage is |  | one arm broken and soldered
12 | brass candlestick, c.1760, 20 cm high | label.no_place | 3 | paper | relabel | place | 1750-1780 | the label names no country |  | English
12 | Aluminium jug, English, c.1975, height 20 cm | date.after_dateline | 1 | paper | remove | date | 1965-1985 | made after the dateline | 
12 | Pewter measure, English, c.1810, bellied body. 14 cm high | measure.capacity_later | 2 | table | relabel | date | 1826-1860 | it holds an Imperial pint, a measure of 1824 | capacity::capacity=568.5
12 | Flintlock pistol, brass and steel, English, c.1780, length 30 cm | law.uk_firearms_2021 | 1 | paper | refer | object | 1770-1800 | the law on such arms has to be read first | 
12 | Brass door knocker by Elias Marchant, English, c.1850, height 19 cm | maker.by_without_support | 2 | paper | relabel | maker | 1840-1870 | no name stands on the casting | 
13 | Copper tray, English, c.1900, hammered, with a raised border. 48 cm wide. In the style of nobody but the maker: unique. | word.praise | 3 | paper | relabel | puff | 1895-1910 | the pattern is known from others in the hall | 
13 | Copper kettle, English, c.1830, acorn knop. 29 cm high. | state.unsaid_replaced_part | 2 | table | relabel | object | 1820-1850 | the spout is lap-jointed with soft solder | condition:spout:cond.replaced_part
13 | Brass fender, English, c.1700–1860, pierced front. 112 cm long. | date.too_vague | 3 | paper | relabel | date | 1800-1840 | the paw feet and piercing are of one generation | 
13 | Copper water pitcher, Dutch, 1791, iron handle. 33 cm high. | date.too_exact | 3 | paper | relabel | date | 1780-1830 | no year stands on the piece | 
"""


def entries() -> list[dict[str, str]]:
    """The table as dictionaries."""
    names = (
        "stand",
        "says",
        "fault",
        "severity",
        "found",
        "outcome",
        "side",
        "years",
        "reason",
        "looks",
        "instead",
    )
    rows = [[part.strip() for part in f"{line} ".split(" | ")] for line in TABLE.strip().splitlines()]
    return [dict(zip(names, [*row, "", ""][: len(names)], strict=True)) for row in rows]
