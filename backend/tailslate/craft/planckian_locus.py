"""The Planckian locus in CIE 1960 (u, v), every 10 mired, and points between.

Computed from the CIE 1931 2 degree observer at 1 nm and Planck's law with c2 = 0.01438776877 m K;
a test computes it again from an outside library. Between the entries: cubic, within 1e-7.
"""

FIRST_MIRED = 30  # mired of the first entry
STEP_MIRED = 10  # mired between entries
# u, v of each entry in units of 1e-9 [colour-2].
_UV = (
    (182081945, 271187742), (182932817, 274073070), (183884610, 277089187), (184943142, 280211846),
    (186113087, 283415703), (187397829, 286675292), (188799409, 289965888), (190318533, 293264195),
    (191954653, 296548849), (193706092, 299800744), (195570203, 303003190), (197543539, 306141937),
    (199622022, 309205099), (201801104, 312183008), (204075916, 315068015), (206441385, 317854285),
    (208892345, 320537570), (211423616, 323114999), (214030071, 325584879), (216706683, 327946510),
    (219448563, 330200025), (222250983, 332346250), (225109392, 334386575), (228019426, 336322854),
    (230976914, 338157309), (233977874, 339892458), (237018516, 341531047), (240095234, 343075994),
    (243204606, 344530348), (246343382, 345897243), (249508483, 347179867), (252696991, 348381440),
    (255906145, 349505181), (259133331, 350554297), (262376081, 351531962), (265632059, 352441304),
    (268899061, 353285394), (272175007, 354067241), (275457934, 354789775), (278745992, 355455852),
    (282037436, 356068240), (285330622, 356629623), (288624005, 357142594), (291916126, 357609654),
    (295205615, 358033212), (298491184, 358415586), (301771620, 358759000), (305045784, 359065587),
    (308312604, 359337391), (311571074, 359576366), (314820248, 359784380), (318059240, 359963215),
    (321287215, 360114572), (324503389, 360240070), (327707029, 360341252), (330897444, 360419584),
    (334073987, 360476462), (337236050, 360513210), (340383063, 360531084), (343514491, 360531279),
    (346629833, 360514924), (349728618, 360483091), (352810405, 360436795), (355874781, 360376997),
    (358921359, 360304606), (361949776, 360220480), (364959694, 360125434), (367950793, 360020234),
    (370922779, 359905606), (373875373, 359782234), (376808318, 359650765), (379721371, 359511809),
    (382614309, 359365941), (385486924, 359213703), (388339021, 359055607), (391170422, 358892134),
    (393980961, 358723739), (396770486, 358550848), (399538855, 358373864), (402285942, 358193166),
    (405011628, 358009111), (407715808, 357822033), (410398386, 357632248), (413059276, 357440052),
    (415698402, 357245724), (418315697, 357049526), (420911102, 356851703), (423484568, 356652487),
    (426036053, 356452094), (428565524, 356250728), (431072955, 356048579), (433558326, 355845826),
    (436021627, 355642637), (438462852, 355439168), (440882004, 355235568), (443279091, 355031973),
    (445654126, 354828513), (448007131, 354625307), (450338131, 354422469),
)  # fmt: skip
LAST_MIRED = FIRST_MIRED + STEP_MIRED * (len(_UV) - 1)  # mired of the last entry


def entry(index: int) -> tuple[float, float]:
    """Return one entry of the table.

    Args:
        index: place in the table, 0 to its length less 1 (a count).
    Returns: u, v [CIE 1960, no unit].
    Raises: nothing.
    Source: [colour-2]

    >>> entry(47)
    (0.305045784, 0.359065587)
    """
    return _UV[index][0] / 1e9, _UV[index][1] / 1e9


def nearest_entry_mired(u: float, v: float) -> float:
    """Return the mired of the table entry that lies nearest to a point.

    Args:
        u: CIE 1960 u [no unit].
        v: CIE 1960 v [no unit].
    Returns: [mired]
    Raises: nothing.
    Source: [colour-2]

    >>> nearest_entry_mired(0.3050, 0.3591)
    500
    """
    best, place = 1e9, 0
    for index, (table_u, table_v) in enumerate(_UV):
        across, up = u - table_u / 1e9, v - table_v / 1e9
        if across * across + up * up < best:
            best, place = across * across + up * up, index
    return FIRST_MIRED + STEP_MIRED * place


def locus_uv(temperature_mired: float) -> tuple[float, float, float, float]:
    """Return the point of the locus at a colour temperature, and its slope.

    Args:
        temperature_mired: reciprocal megakelvin [mired], from the first to the last entry.
    Returns: u, v [CIE 1960, no unit] and their change per mired.
    Raises: nothing; outside the table the nearest cubic is carried on.
    Source: [colour-2]

    >>> round(locus_uv(500.0)[0], 9)
    0.305045784
    """
    place = int((temperature_mired - FIRST_MIRED) // STEP_MIRED) - 1
    place = max(0, min(place, len(_UV) - 4))
    t = (temperature_mired - FIRST_MIRED) / STEP_MIRED - place
    weights = (
        -(t - 1) * (t - 2) * (t - 3) / 6,
        t * (t - 2) * (t - 3) / 2,
        -t * (t - 1) * (t - 3) / 2,
        t * (t - 1) * (t - 2) / 6,
    )
    slopes = (
        -(3 * t * t - 12 * t + 11) / 6,
        (3 * t * t - 10 * t + 6) / 2,
        -(3 * t * t - 8 * t + 3) / 2,
        (3 * t * t - 6 * t + 2) / 6,
    )
    u = v = slope_u = slope_v = 0.0
    for index in range(4):
        table_u, table_v = entry(place + index)
        u, v = u + weights[index] * table_u, v + weights[index] * table_v
        slope_u, slope_v = slope_u + slopes[index] * table_u, slope_v + slopes[index] * table_v
    return u, v, slope_u / STEP_MIRED, slope_v / STEP_MIRED
