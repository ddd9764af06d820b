/**
 * Concludes on a soil from what the hands found; null while an answer is missing.
 * Ribbon lengths after the texture by feel of the USDA, grain limits of EN ISO 14688-1.
 * @param {{hand?: string, grain?: string, ribbon?: string, rock?: string}} answers
 * @returns {{class: string, grade: string, clayey: boolean} | null}
 */
export function soilOf({ hand, grain, ribbon, rock }) {
  switch (hand) {
    case "grains":
      if (grain === "pebbles") return soil("gravel", "", ribbon === "short" || ribbon === "long");
      if (!grain || !ribbon) return null;
      return ribbon === "long" ? soil("clay") : soil("sand", grain, ribbon === "short");
    case "floury":
      if (!ribbon) return null;
      return ribbon === "none" ? soil("silt") : ribbon === "short" ? soil("silt", "", true) : soil("clay");
    case "sticky":
      if (!ribbon) return null;
      return ribbon === "none" ? soil("silt", "", true) : soil("clay");
    case "lumps":
      return soil("topsoil");
    case "hard":
      return rock ? soil({ crust: "hardpan", rotten: "weathered-rock", cracked: "fractured-rock", sound: "rock" }[rock]) : null;
  }
  return null;
}

/** The questions that are still open after some answers. */
export function asked({ hand, grain }) {
  if (hand === "grains") return grain === "pebbles" ? ["hand", "grain"] : ["hand", "grain", "ribbon"];
  if (hand === "floury" || hand === "sticky") return ["hand", "ribbon"];
  return hand === "hard" ? ["hand", "rock"] : ["hand"];
}

function soil(name, grade = "", clayey = false) {
  return { class: name, grade, clayey };
}
