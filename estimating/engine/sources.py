"""Where the rules come from. A reason names one of these by id."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Source:
    id: str
    title: str
    kind: str  # published, common practice, starter figure, firm, from memory, geometry


_ALL = (
    Source("COMMON_PRACTICE", "Common practice, no source.", "common practice"),
    Source("GEOMETRY", "Geometry of the dock as specified.", "geometry"),
    Source("FIRM", "This firm's own rule or figure.", "firm"),
    Source("FIRM_JOINTS", "This firm's joint rules in the catalogue.", "firm"),
    Source("STARTER_HOURS", "Starter hours, to be replaced by the firm's own records.", "starter figure"),
    Source("STARTER_LIMITS", "Starter limit, to be replaced by the firm's own.", "starter figure"),
    Source("ARCHIMEDES", "Archimedes: water pushed aside weighs what floats on it.", "published"),
    Source("FRESH_WATER", "62.4 lb/cu ft fresh, 64.0 salt: within 0.3 % of TEOS-10 and IAPWS.", "published"),
    Source("PS20", "Dressed sizes: PS 20, as tabulated in the NDS Supplement, Tables 1A and 1B.", "published"),
    Source("NDS_DENSITY", "Wood weight from specific gravity and moisture: NDS Supplement.", "published"),
    Source("IRC_R507_7", "Decking support spacing: IRC Table R507.7; local code decides.", "published"),
    Source("UFC_4_152_01", "UFC 4-152-01 (28 Jul 2005), 7-3.3: landing floats for people.", "published"),
    Source("RESERVOIR_DOCKS", "Dock specification of a federal reservoir licensee, loads.", "published"),
    Source("LAKE_TOWN_CODE", "City code of Lake St. Croix Beach, Minnesota: docks.", "published"),
    Source("NDS_VALUES", "Reference design values, No.2: NDS Supplement, Tables 4A and 4B (2013).", "published"),
    Source("NDS_FACTORS", "Adjustment factors: NDS, 4.3; wet, incised and duration from memory.", "published"),
    Source("DCA_6", "Deck joist spans: American Wood Council, DCA 6, Table 2.", "published"),
    Source("NDS_YIELD", "Bolts and screws in single shear: NDS 2018, Table 12.3.1A, six yield modes.", "published"),
    Source("NDS_WITHDRAWAL", "Lags and screws pulling out: NDS 2018, 12.2; wet wood from memory.", "published"),
    Source("STATICS", "Statics of straight beams, and of rafts on floats.", "geometry"),
    Source("ENGINEER_LIMITS", "When an engineer is needed: common practice; the authority decides.", "common practice"),
    Source("ADA_GANGWAYS", "ADA Standards 2010, 405 and 1003.2.1: accessible routes, gangways.", "published"),
    Source("BROWS", "UFC 4-152-01 (28 Jul 2005), 7-4: brows, their width and loads.", "published"),
    Source("GUARDS", "IRC R312.1, from memory; whether it holds over water the local code decides.", "from memory"),
    Source("STATISTICS", "Percentiles, linear between readings.", "geometry"),
    Source("NOAA_COOPS", "NOAA CO-OPS water levels as CSV: heading and flags.", "published"),
    Source("USGS_RDB", "USGS RDB: heading, line of widths, parameter codes.", "published"),
    Source("ECCC_HYDROMETRIC", "Environment Canada hydrometric CSV: heading; symbols from memory.", "published"),
    Source("FLOAT_RATING", "Rated lift of the float, from its sheet, with date.", "firm"),
    Source(
        "CATENARY", "Hanging chain that does not stretch: closed form, as in MIT OCW 2.019, lecture 13.", "published"
    ),
    Source("CHAIN_LIMITS", "Chain working load limits: 49 CFR 393.108; 5/16 in from memory.", "published"),
    Source("DM_7_02", "Concrete on soil: NAVFAC DM 7.02 (1986), table 1; a set block may do worse.", "published"),
    Source("WIND_PRESSURE", "Wind pressure 0.00256 V² from the weight of air; drag from memory.", "published"),
    Source("CURRENT_PRESSURE", "Pressure of running water ½ρV²; drag from memory.", "published"),
    Source("UFC_4_159_03", "UFC 4-159-03 (3 Oct 2005), 4-5: current force rises in shallow water.", "published"),
    Source("CEM_WAVES", "Waves by wind and fetch: EM 1110-2-1100, part II-2, eqs. II-2-36 to 38.", "published"),
    Source("FALMOUTH_MOORINGS", "Town code of Falmouth, MA, 269-5: chain 2 to 2½ times the depth.", "published"),
    Source("COOLING_OFF", "Three business days to cancel: 16 CFR 429.0(f) and 429.1; places differ.", "published"),
)
SOURCES: dict[str, Source] = {source.id: source for source in _ALL}


def source(source_id: str) -> Source:
    """The source with this id. Raises KeyError for an id nobody registered."""
    return SOURCES[source_id]
