"""Case id -> the calls of craft that answer it. Imports craft only, in the phone's Python too.

run_case turns a case's inputs into what craft takes, and its answers into the case's names and units.
"""

from tailslate.craft import (
    battery,
    bounce,
    cable,
    colour,
    contrast,
    correction,
    crew,
    drinks,
    exposure,
    flicker,
    focus,
    food,
    form_factors,
    frame,
    layers,
    lit_sheet,
    network,
    odds,
    overhead,
    photometry,
    power,
    softness,
    stand,
    tape,
    units,
    view,
    walkway,
    wind,
)
from tailslate.craft.errors import RuleError
from tailslate.craft.rounding import count_up


def is_accepted(call):
    """Whether a call of no arguments is answered rather than refused."""
    try:
        call()
    except RuleError:
        return False
    return True


def stop_of(x, time_s=None):
    time_s = time_s or exposure.exposure_time_s(x["angle"], frame_rate_per_s=x["fps"])
    return exposure.stop_number(
        units.lx_from_fc(x["E"]), exposure_index=x["EI"], time_s=time_s, calibration_constant=x["C"]
    )


def exposure_01_06(x):
    stop = stop_of(x)
    flat = stop_of({"E": x["E"], "EI": x["EI"], "fps": x["fps"], "angle": x["angle"], "C": 250})
    return {"N": stop, "stops_from_C250": exposure.stop_difference_stops(stop, reference=flat)}


def exposure_01_07(x):
    facts = {"stop": x["N"], "exposure_index": x["EI"], "time_s": x["t"]}
    return {
        "C": exposure.implied_constant(units.lx_from_fc(x["E"]), **facts),
        "C_fc": exposure.implied_constant(x["E"], **facts),
    }


def exposure_01_08(x):
    time_s = exposure.exposure_time_s(x["angle"], frame_rate_per_s=x["fps"])
    level_lx = exposure.illuminance_for_stop_lx(
        x["T"], exposure_index=x["EI"], time_s=time_s, calibration_constant=x["C"]
    )
    return {"E": level_lx, "E_fc": units.fc_from_lx(level_lx)}


def exposure_01_10(x):
    stop = exposure.t_stop(x["N"], lens_transmittance_ratio=x["tau"])
    return {"T": stop, "loss": exposure.stop_difference_stops(stop, reference=x["N"])}


def exposure_01_13(x):
    errors = [
        exposure.stop_difference_stops(marked, reference=x["exact"][place])
        for place, marked in enumerate(x["marked"])
    ]
    return {"err_5p6": errors[0], "err_11": errors[1]}


def exposure_01_15(x):
    # Two pulses of light in each exposure.
    angles = [flicker.even_angles_deg(x["fps"], mains_hz=mains)[1] for mains in x["mains"]]
    return {"angle_50": angles[0], "angle_60": angles[1]}


def exposure_01_16(x):
    before, after = [
        exposure.exposure_time_s(angle, frame_rate_per_s=fps) for fps, angle in (x["from"], x["to"])
    ]
    return {"stops": exposure.stops_between(after, reference=before)}


def light_02_04(x):
    def over(diameters):
        even = photometry.disk_illuminance_lx(1.0, radius_m=0.5, distance_m=diameters)
        area_m2 = photometry.math.pi * 0.25
        return photometry.point_illuminance_lx(area_m2, distance_m=diameters) / even

    wide = over(x["d_over_diameter"])
    return {
        "over_at_5D_pct": 100 * (wide - 1),
        "over_at_5D_stop": exposure.stops_between(wide, reference=1.0),
        "over_at_5r_pct": 100 * (over(x["d_over_radius"] / 2) - 1),
    }


def frame_level(x, luminance=1.0, right_m=0.0, away="d"):
    return photometry.rectangle_illuminance_lx(
        x.get("L", luminance),
        width_m=x["w"],
        height_m=x.get("h", x["w"]),
        distance_m=x[away],
        right_m=right_m,
    )


def light_02_07(x):
    square = {"w": x["w"], "d1": x["d1"], "d2": x["d2"]}
    near, far = frame_level(square, away="d2"), frame_level(square, away="d1")
    return {"stops": exposure.stops_between(near, reference=far)}


def light_02_08(x):
    beside = frame_level(x, right_m=x["dx"])
    return {"E": beside, "ratio_to_axis": beside / frame_level(x)}


def light_02_10(x):
    luminance = photometry.sheet_luminance_cd_m2(x["E_in"], transmittance_ratio=x["tau"])
    return {"L": luminance, "M": luminance * photometry.math.pi}


def light_02_11(x):
    on_sheet_lx = photometry.point_illuminance_lx(x["I"], distance_m=x["d1"])
    luminance = photometry.sheet_luminance_cd_m2(on_sheet_lx, transmittance_ratio=x["tau"])
    uneven_lx = lit_sheet.lamp_lit_sheet_illuminance_lx(
        x["I"],
        lamp_distance_m=x["d1"],
        width_m=x["w"],
        height_m=x["w"],
        transmittance_ratio=x["tau"],
        distance_m=x["d2"],
    )
    return {"E_uniform_model": frame_level(x, luminance, away="d2"), "E_cos3_model": uneven_lx}


def light_02_13(x):
    together = layers.stacked_transmittance_ratio(x["t"], reflectances=x["r"])
    return {
        "tau": together,
        "loss": exposure.loss_stops(together),
        "less_than_added_stops_by": layers.overstated_stops(x["t"], reflectances=x["r"]),
    }


def light_02_16(x):
    left = exposure.transmittance_ratio(x["loss"])
    return {"tau": left, "light_lost_pct": 100 * (1 - left)}


def light_02_19(x):
    return {
        "accept": is_accepted(
            lambda: layers.check_layer(transmittance_ratio=x["t"], reflectance_ratio=x["r"])
        )
    }


def softness_03_04(x):
    facts = {"source_size_m": x["S"], "source_to_edge_m": x["L1"]}
    half = softness.penumbra_m(edge_to_surface_m=x["L2"], **facts)
    full = softness.umbra_m(x["W"], edge_to_surface_m=x["L2"], **facts)
    ends = softness.umbra_ends_m(x["W"], **facts)
    return {"penumbra": half, "umbra": full, "outer": full + 2 * half, "umbra_vanishes_at_L2": ends}


def softness_03_05(x):
    facts = {"source_size_m": x["S"], "source_to_edge_m": x["L1"], "edge_to_surface_m": x["L2"]}
    full = softness.umbra_m(x["W"], **facts)
    return {"penumbra": softness.penumbra_m(**facts), "umbra_signed": full, "has_umbra": full > 0}


def softness_03_08(x):
    answers = {}
    for place in x["theta"]:
        answers[f"rel_{place}"] = softness.wrap_ratio(half_angle_deg=x["half_angle"], from_source_deg=place)
    return answers


def softness_03_10(x):
    away_m = softness.same_softness_distance_m(x["D2"], other_size_m=x["D1"], other_distance_m=x["d1"])
    levels = [
        photometry.disk_illuminance_lx(1.0, radius_m=size_m / 2, distance_m=distance_m)
        for size_m, distance_m in ((x["D2"], away_m), (x["D1"], x["d1"]))
    ]
    return {"d2": away_m, "E_ratio_same_luminance": levels[0] / levels[1]}


def contrast_04_01(x):
    ratio = contrast.contrast_ratio(x["key"], fill_lx=x["fill"])
    return {"ratio": ratio, "stops": exposure.stops_between(ratio, reference=1.0)}


def contrast_04_04(x):
    together = contrast.sum_lx(x["E"])
    return {"E_total": together, "over_key_alone": exposure.stops_between(together, reference=x["E"][0])}


def contrast_04_06(x):
    return {
        "spread": contrast.spread_stops(x["E"]),
        "max_over": exposure.stops_between(max(x["E"]), reference=x["E_shoot"]),
        "max_under": exposure.stops_between(min(x["E"]), reference=x["E_shoot"]),
    }


def colour_05_01(x):
    warm, cold = x["T"]
    return {
        "M_3200": units.mired_from_k(warm),
        "M_5600": units.mired_from_k(cold),
        "shift": colour.shift_between_mired(warm, to_k=cold),
    }


def shifts(names):
    def answer(x):
        found = {}
        for place, (from_k, to_k) in enumerate(x["conversions"]):
            found[names[place]] = colour.shift_between_mired(from_k, to_k=to_k)
        return found

    return answer


def meter(x):
    found = colour.colour_temperature(x["x"], y=x["y"])
    return {"CCT": found["temperature_k"], "Duv": found["duv"], "McCamy": colour.mccamy_k(x["x"], y=x["y"])}


def colour_05_14(x):
    found = correction.nearest_correction(x["T_from"], to_k=x["T_to"], full_mired=x["full"])
    return {
        "shift": found["shift_mired"],
        "direction": found["direction"],
        "nearest": found["strength"],
        "residual": found["residual_mired"],
        "T_after": found["temperature_after_k"],
    }


def colour_05_16(x):
    lights = [
        {"x": xy[0], "y": xy[1], "illuminance_lx": x["E"][place]}
        for place, xy in enumerate((x["source1_xy"], x["source2_xy"]))
    ]
    both = colour.mixture(lights)
    found = colour.colour_temperature(both["x"], y=both["y"])
    return {"x": both["x"], "y": both["y"], "CCT": found["temperature_k"], "Duv": found["duv"]}


def colour_05_18(x):
    answers = {}
    for place, (one_k, other_k) in enumerate(x["pairs"]):
        answers[f"d{place + 1}"] = colour.shift_between_mired(one_k, to_k=other_k)
        answers[f"visible{place + 1}"] = colour.is_visible_difference(
            one_k, other_k=other_k, threshold_mired=x["jnd"]
        )
    return answers


def table_share(x):
    return {
        "F": bounce.tabletop_ratio(
            near_edge_m=x["x0"],
            far_edge_m=x["x1"],
            left_m=x["half_width"],
            right_m=x["half_width"],
            height_m=x["h"],
        )
    }


def bounce_06_04(x):
    fill_lx = bounce.bounced_illuminance_lx(
        x["E_table"], reflectance_ratio=x["rho"], form_factor_ratio=x["F"]
    )
    return {
        "E_fill": fill_lx,
        "fill_under_key": exposure.stops_between(fill_lx, reference=x["E_key"]),
        "ratio": contrast.contrast_ratio(x["E_key"], fill_lx=fill_lx),
    }


def bounce_06_07(x):
    answers = {}
    for value in x["V"]:
        answers[f"Y{value}"] = 100 * bounce.munsell_reflectance_ratio(value)
    return answers


def bounce_06_09(x):
    cloth, skin, grey = [bounce.bounce_luminance_cd_m2(100.0, reflectance_ratio=rho) for rho in x["rho"]]
    return {
        "cloth_over_grey": exposure.stops_between(cloth, reference=grey),
        "skin_over_grey": exposure.stops_between(skin, reference=grey),
    }


def rigging_07_01(x):
    weight_kg = stand.counterweight_kg(
        x["m_load"],
        load_arm_m=x["L_load"],
        weight_arm_m=x["L_cw"],
        boom_kg=x["m_boom"],
        boom_centre_m=x["boom_cg_on_load_side"],
    )
    return {"m_cw": weight_kg, "total_on_stand": weight_kg + x["m_load"] + x["m_boom"]}


def rigging_07_03(x):
    answers = {}
    for legs in x["legs"]:
        answers[f"r{legs}"] = stand.tipping_edge_m(x["R"], leg_count=legs)
    return answers


def stand_facts(x):
    return {
        "offset_m": x["offset"],
        "stand_kg": x["m_stand"],
        "leg_radius_m": x["R"],
        "safety_ratio": x["SF"],
    }


def rigging_07_04(x):
    return {
        "m_bag": stand.bag_kg(x["m_load"], **stand_facts(x)),
        "m_bag_leg_under_load": stand.bag_kg(x["m_load"], from_leg_deg=0.0, slew_deg=0.0, **stand_facts(x)),
    }


def rigging_07_07(x):
    pressure_pa = wind.wind_pressure_pa(x["v"], air_kg_m3=x["rho"])
    force_n = wind.wind_force_n(x["v"], area_m2=x["A"], force_ratio=x["Cf"], air_kg_m3=x["rho"])
    return {"q": pressure_pa, "F": force_n}


def rigging_07_09(x):
    pressure_psf = wind.wind_pressure_psf(x["V"])
    return {"q_psf": pressure_psf, "q_Pa": pressure_psf * units.PASCALS_PER_PSF}


def rigging_07_10(x):
    def tips(safety_ratio):
        return wind.tipping_wind_m_s(
            x["m_total"],
            tipping_edge_m=x["r"],
            area_m2=x["A"],
            centre_height_m=x["h"],
            safety_ratio=safety_ratio,
            force_ratio=x["Cf"],
            air_kg_m3=x["rho"],
            gravity_m_s2=x["g"],
        )

    return {"v": tips(1.0), "v_with_SF_1p5": tips(1.5), "beaufort": wind.beaufort(tips(1.0))}


def rigging_07_13(x):
    tension_n = overhead.sling_tension_n(
        x["m"], sling_from_horizontal_deg=x["angle_from_horizontal"], gravity_m_s2=x["g"]
    )
    return {"T": tension_n}


def rigging_07_14(x):
    answers = {}
    for factor in x["DF"]:
        answers[f"MBL{factor}"] = overhead.minimum_breaking_load_n(
            x["m"], design_ratio=factor, gravity_m_s2=x["g"]
        )
    return answers


def rigging_07_16(x):
    return {
        "m_bag": stand.bag_kg(x["m_load"], **stand_facts(x)),
        "stable": stand.needs_no_bag(x["m_load"], **stand_facts(x)),
    }


def power_08_01(x):
    return {
        "I": power.current_a(x["P"], voltage_v=x["V"], power_factor_ratio=x["pf"]),
        "VA": power.apparent_power_va(x["P"], power_factor_ratio=x["pf"]),
    }


def power_08_02(x):
    facts = {"continuous_ratio": x["factor"]}
    return {
        "I_max": power.continuous_limit_a(x["breaker"], **facts),
        "P_max": power.largest_load_w(x["breaker"], voltage_v=x["V"], power_factor_ratio=x["pf"], **facts),
    }


def power_08_04(x):
    drop_v = cable.voltage_drop_v(
        x["I"], length_m=units.m_from_ft(x["L"]), ohm_per_m=x["R"] / cable.METRES_PER_KFT
    )
    return {"drop": drop_v, "pct": 100 * cable.drop_ratio(drop_v, voltage_v=x["V"])}


def power_08_06(x):
    cold_v = cable.voltage_drop_v(x["I"], length_m=x["L"], ohm_per_m=x["R20"] / 1000)
    drop_v = cold_v * cable.warm_resistance_ratio(x["T"])
    return {
        "drop": drop_v,
        "pct": 100 * cable.drop_ratio(drop_v, voltage_v=x["V"]),
        "drop_20C": cold_v,
    }


def power_08_08(x):
    energy_wh = battery.battery_energy_wh(x["V"], charge_ah=x["Q"])
    time_h = battery.run_time_h(
        x["P"],
        energy_wh=energy_wh,
        usable_ratio=x["usable"],
        cold_ratio=x["cold"],
        converter_ratio=x["eta"],
    )
    return {"Wh": energy_wh, "t": time_h}


def power_08_09(x):
    needed = battery.blocks_needed(
        x["P"], time_h=x["t"], energy_wh=x["Wh"], usable_ratio=x["usable"], cold_ratio=x["cold"]
    )
    return {"blocks_exact": needed, "blocks": count_up(needed)}


def power_08_10(x):
    one, two, three = x["I"]
    return {
        "I_N": power.neutral_current_a(one, leg_2_a=two, leg_3_a=three),
        # The case's figure is the heaviest leg over the mean: see its note.
        "imbalance_pct": 100 * power.heaviest_over_mean_ratio(x["I"]),
    }


def drinks_09_01(x):
    ratio = drinks.stock_ratio(x["A_target"], stock_per_cm=x["a_stock"], path_cm=x["path"])
    return {"fraction": ratio, "V_stock": ratio * x["V"], "V_water": (1 - ratio) * x["V"]}


def drinks_09_05(x):
    amount_g = food.sugar_g(
        x["mL_per_take"] * x["takes"], sugar_g_per_100g=x["sugar"], density_g_per_ml=x["density"]
    )
    return {"sugar_g": amount_g, "share_of_50g": food.sugar_share_ratio(amount_g)}


def drinks_09_07(x):
    amount_mg = food.caffeine_mg(
        x["mL_per_take"] * x["takes"], caffeine_mg_per_100g=x["caffeine"], density_g_per_ml=x["density"]
    )
    return {
        "caffeine_mg": amount_mg,
        "over_200_single": food.is_over_caffeine(amount_mg, limit_mg=food.CAFFEINE_ONCE_MG),
        "over_400_day": food.is_over_caffeine(amount_mg, limit_mg=food.CAFFEINE_DAY_MG),
    }


def drinks_09_08(x):
    volume_ml = drinks.refilled_ml(
        glass_count=x["performers"],
        fill_ml=x["fill"],
        reset_count=x["takes"],
        waste_ratio=x["waste"],
        spare_set_count=x["spare_sets"],
    )
    return {"V": volume_ml}


def drinks_09_10(x):
    answers = {}
    for warm in x["F"]:
        answers[f"C{warm}"] = units.degc_from_degf(warm)
    return answers


def lens_10_01(x):
    focal_length_m = x["f"] / 1000
    # The full height of the 4-perforation Super 35 gate in the title; the case's inputs leave it out.
    full_m, crop_m = 0.01866, view.cropped_height_m(x["w"] / 1000, aspect_ratio=x["aspect"])
    return {
        "H": view.angle_of_view_deg(x["w"] / 1000, focal_length_m=focal_length_m),
        "V_full": view.angle_of_view_deg(full_m, focal_length_m=focal_length_m),
        "V_crop": view.angle_of_view_deg(crop_m, focal_length_m=focal_length_m),
    }


def lens_10_03(x):
    facts = {"focal_length_m": x["f"] / 1000, "distance_m": x["u"] / 1000}
    side_m = x["w"] / 1000
    return {
        "W_pinhole": 1000 * view.field_width_m(side_m, is_thin_lens=False, **facts),
        "W_thin": 1000 * view.field_width_m(side_m, **facts),
    }


def lens_10_05(x):
    facts = {"f_number": x["N"], "blur_m": x["c"] / 1000}
    sharp = focus.depth_of_field(x["f"] / 1000, distance_m=x["u"] / 1000, **facts)
    return {
        "H": 1000 * focus.hyperfocal_m(x["f"] / 1000, **facts),
        "near": 1000 * sharp["near_m"],
        "far": 1000 * sharp["far_m"],
        "total": 1000 * sharp["total_m"],
    }


def lens_10_07(x):
    focal_length_m = x["f"] / 1000
    facts = {"f_number": x["N"], "blur_m": x["c"] / 1000}
    hyperfocal_m = focus.hyperfocal_m(focal_length_m, **facts)
    sharp = focus.depth_of_field(focal_length_m, distance_m=hyperfocal_m, **facts)
    return {
        "H": 1000 * hyperfocal_m,
        "H_short": 1000 * (hyperfocal_m - focal_length_m),
        "near_when_at_H": 1000 * sharp["near_m"],
    }


def camera_facts(x):
    right, forward, up = x["camera"]
    return {
        "camera": (right, up, forward),
        "pan_deg": x["pan"],
        "tilt_deg": x["tilt"],
        "focal_length_m": x["f"] / 1000,
    }


def seen(x):
    right, forward, up = x["P"]
    width_m = x["w"] / 1000
    return frame.is_in_frame(
        (right, up, forward),
        sensor_width_m=width_m,
        sensor_height_m=view.cropped_height_m(width_m, aspect_ratio=x["aspect"]),
        **camera_facts(x),
    )


def lens_10_09(x):
    right, forward, up = x["P"]
    across_m, above_m = frame.on_sensor_m((right, up, forward), **camera_facts(x))
    return {"u": 1000 * across_m, "v": 1000 * above_m, "in_frame": seen(x)}


def lens_10_11(x):
    height_m = frame.top_of_frame_m(
        x["distance"],
        camera_height_m=x["cam_h"],
        tilt_deg=x["tilt"],
        focal_length_m=x["f"] / 1000,
        sensor_height_m=x["h"] / 1000,
    )
    return {"top_of_frame": height_m}


def lens_10_12(x):
    facts = {"focal_length_m": x["f"] / 1000}
    # The gate's height stands in the title; squeeze leaves it alone.
    return {
        "H": view.angle_of_view_deg(x["w"] / 1000, squeeze_ratio=x["squeeze"], **facts),
        "V": view.angle_of_view_deg(0.0184, **facts),
    }


def tape_11_02(x):
    length_m = tape.marks_m(
        x["marks"], bar_m=x["bar"] / 1000, stem_m=x["stem"] / 1000, waste_ratio=x["waste"]
    )
    return {"L": length_m}


def tape_11_04(x):
    return {
        "strips": tape.strip_count(x["run"], pitch_m=x["pitch"]),
        "L": tape.cable_run_m(x["run"], pitch_m=x["pitch"], strip_m=x["strip"]),
    }


def tape_11_05(x):
    length_m = tape.edge_wrap_m(
        width_m=x["w"], height_m=x["h"], layer_count=x["layers"], overlap_m=x["overlap"]
    )
    return {"L": length_m}


def tape_11_06(x):
    length_m = tape.tube_wrap_m(
        tube_diameter_m=x["D"], wrapped_m=x["l"], tape_width_m=x["w"], overlap_ratio=x["overlap"]
    )
    return {"L": length_m}


def tape_11_07(x):
    length_m = tape.left_on_roll_m(
        outer_diameter_m=x["OD"] / 1000, core_diameter_m=x["core"] / 1000, thickness_m=x["t"] / 1000
    )
    return {"L": length_m}


def tape_11_09(x):
    needs = walkway.bump_needs(x["bump"] / 1000)
    return {"flush_ok": needs == "flush", "bevel_ok": needs in ("flush", "bevel")}


def tasks_of(activities):
    return [{"id": row[0], "duration_min": float(row[1]), "after": row[2]} for row in activities]


def schedule_12_01(x):
    # Work stands on the arcs: each waits for those that end where it begins.
    tasks = []
    for start, end, duration in x["arcs"]:
        before = [f"{i}-{j}" for i, j, _ in x["arcs"] if j == start]
        tasks.append({"id": f"{start}-{end}", "duration_min": float(duration), "after": before})
    found = network.critical_path(tasks)
    slack = {}
    for task in found["tasks"]:
        slack[task["id"]] = task["slack_min"]
    return {"T": found["length_min"], "critical": found["critical"], "slack": slack}


def schedule_12_03(x):
    found = network.critical_path(tasks_of(x["activities"]))
    by_letter = {}
    for task in found["tasks"]:
        by_letter[task["id"][0]] = task
    return {
        "T": found["length_min"],
        "critical": found["critical"],
        "slack_D": by_letter["D"]["slack_min"],
        "slack_G": by_letter["G"]["slack_min"],
        "free_float_D": by_letter["D"]["free_slack_min"],
    }


def schedule_12_04(x):
    steps = [odds.three_point_min(a, likely_min=m, latest_min=b) for a, m, b in x["a_m_b"]]
    path = odds.path_min(steps)
    return {
        "mean": path["mean_min"],
        "variance": path["variance_min2"],
        "P": odds.ready_by_ratio(x["due"], **path),
    }


def schedule_12_06(x):
    one = {"mean_min": float(x["mean"]), "variance_min2": float(x["sd"] * x["sd"])}
    return {
        "P_one": odds.ready_by_ratio(x["due"], **one),
        "P_all": odds.all_ready_ratio(x["due"], times=[one] * x["n"]),
        "E_max": odds.latest_mean_min([one] * x["n"]),
    }


def schedule_12_08(x):
    tasks = tasks_of(x["activities"])
    for place, row in enumerate(x["activities"]):
        tasks[place]["hands"] = {"grip": row[3]}
    capacity = {"grip": x["capacity"]}
    return {
        "T_unlimited": network.critical_path(tasks)["length_min"],
        "T_list": crew.crew_schedule(tasks, capacity=capacity)["length_min"],
        "T_best": crew.shortest_found_min(tasks, capacity=capacity),
    }


CALLS = {
    "01-01": lambda x: {"E": units.lx_from_fc(x["E"])},
    "01-03": lambda x: {"t": exposure.exposure_time_s(x["angle"], frame_rate_per_s=x["fps"])},
    "01-05": lambda x: {"N": stop_of(x)},
    "01-06": exposure_01_06,
    "01-07": exposure_01_07,
    "01-08": exposure_01_08,
    "01-10": exposure_01_10,
    "01-11": lambda x: {"stops": exposure.filter_pack_stops([x["ND"]], factors=x["filter_factors"])},
    "01-13": exposure_01_13,
    "01-15": exposure_01_15,
    "01-16": exposure_01_16,
    "02-01": lambda x: {
        "E": photometry.point_illuminance_lx(x["I"], distance_m=x["d"], incidence_deg=x["incidence"])
    },
    "02-03": lambda x: {"E": photometry.disk_illuminance_lx(x["L"], radius_m=x["r"], distance_m=x["d"])},
    "02-04": light_02_04,
    "02-05": lambda x: {"E": frame_level(x)},
    "02-07": light_02_07,
    "02-08": light_02_08,
    "02-10": light_02_10,
    "02-11": light_02_11,
    "02-13": light_02_13,
    "02-16": light_02_16,
    "02-19": light_02_19,
    "02-20": lambda x: {"loss_at_subject": exposure.stops_between(x["E_bare"], reference=x["E_frame"])},
    "03-01": lambda x: {"angle": softness.apparent_size_deg(x["D"], distance_m=x["d"])},
    "03-03": lambda x: {
        "omega": form_factors.rectangle_solid_angle_sr(width_m=x["w"], height_m=x["h"], distance_m=x["d"])
    },
    "03-04": softness_03_04,
    "03-05": softness_03_05,
    "03-06": lambda x: {
        "last_lit_angle": softness.last_lit_deg(x["half_angle"]),
        "full_source_visible_to": softness.fully_lit_to_deg(x["half_angle"]),
    },
    "03-08": softness_03_08,
    "03-10": softness_03_10,
    "04-01": contrast_04_01,
    "04-02": lambda x: {"fill": contrast.fill_for_ratio_lx(x["key"], ratio=x["ratio"])},
    "04-04": contrast_04_04,
    "04-06": contrast_04_06,
    "04-08": lambda x: {"E_add": contrast.added_light_lx(x["E"], rise_stops=x["rise"])},
    "05-01": colour_05_01,
    "05-02": shifts(["80A", "85B", "85"]),
    "05-03": shifts(["82A", "81A", "80B"]),
    "05-04": lambda x: {"T2": colour.shifted_k(x["T"], shift_mired=x["shift"])},
    "05-06": meter,
    "05-07": meter,
    "05-09": meter,
    "05-11": meter,
    "05-14": colour_05_14,
    "05-16": colour_05_16,
    "05-18": colour_05_18,
    "06-01": table_share,
    "06-03": table_share,
    "06-04": bounce_06_04,
    "06-07": bounce_06_07,
    "06-09": bounce_06_09,
    "07-01": rigging_07_01,
    "07-03": rigging_07_03,
    "07-04": rigging_07_04,
    "07-07": rigging_07_07,
    "07-09": rigging_07_09,
    "07-10": rigging_07_10,
    "07-12": lambda x: {"B": [wind.beaufort(speed) for speed in x["v"]]},
    "07-13": rigging_07_13,
    "07-14": rigging_07_14,
    "07-16": rigging_07_16,
    "08-01": power_08_01,
    "08-02": power_08_02,
    "08-04": power_08_04,
    "08-06": power_08_06,
    "08-08": power_08_08,
    "08-09": power_08_09,
    "08-10": power_08_10,
    "08-12": lambda x: {"max_leg": max(power.balanced_legs(x["P"])["leg_w"])},
    "09-01": drinks_09_01,
    "09-03": lambda x: {"f2": drinks.same_look_ratio(x["f1"], path_cm=x["l1"], other_path_cm=x["l2"])},
    "09-05": drinks_09_05,
    "09-07": drinks_09_07,
    "09-08": drinks_09_08,
    "09-10": drinks_09_10,
    "09-12": lambda x: {"declare": [food.must_declare_sulphites(amount) for amount in x["SO2"]]},
    "10-01": lens_10_01,
    "10-03": lens_10_03,
    "10-05": lens_10_05,
    "10-07": lens_10_07,
    "10-09": lens_10_09,
    "10-11": lens_10_11,
    "10-12": lens_10_12,
    "10-13": lambda x: {"in_frame": seen(x)},
    "11-01": lambda x: {"m55": units.m_from_yd(x["L"][0]), "m60": units.m_from_yd(x["L"][1])},
    "11-02": tape_11_02,
    "11-04": tape_11_04,
    "11-05": tape_11_05,
    "11-06": tape_11_06,
    "11-07": tape_11_07,
    "11-09": tape_11_09,
    "12-01": schedule_12_01,
    "12-03": schedule_12_03,
    "12-04": schedule_12_04,
    "12-06": schedule_12_06,
    "12-08": schedule_12_08,
    "12-11": lambda x: {"accept": is_accepted(lambda: network.critical_path(tasks_of(x["activities"])))},
}


def run_case(case):
    """Return the answers of craft to one case, by the names in its `expected`.

    Args:
        case: dict, keys id and inputs (name -> dict, keys value, unit).
    """
    plain = {}
    for name in case["inputs"]:
        plain[name] = case["inputs"][name]["value"]
    return CALLS[case["id"]](plain)
