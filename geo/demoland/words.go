package demoland

// Lang is the language of an office.
type Lang string

// The languages of the offices.
const (
	English    Lang = "en"
	French     Lang = "fr"
	Portuguese Lang = "pt"
)

// drillersWords is what crews write for a unit. The words are those of general field
// usage (from memory).
var drillersWords = map[Lang]map[Unit][]string{
	English: {
		TopSoil: {"topsoil", "black soil", "sandy loam"}, Crust: {"hard laterite", "ironpan", "laterite crust"},
		MottledClay: {"mottled clay", "red clay", "white and red clay"}, Saprolite: {"weathered rock", "rotten rock", "decomposed granite"},
		Grus: {"weathered rock, gritty", "coarse rotten rock"}, BrokenRock: {"fractured rock", "broken rock"}, FreshRock: {"hard rock", "fresh granite"},
		FloodClay: {"grey clay", "black clay", "silty clay"}, FloodSilt: {"silt", "sandy silt"}, LowerClay: {"stiff grey clay", "clay"},
		FineLens: {"fine sand", "fine grey sand"}, MediumLens: {"medium sand", "medium brown sand"}, CoarseLens: {"coarse sand", "sharp coarse sand"},
		GravelLens: {"gravel", "gravel with pebbles"}, DirtyLens: {"clayey fine sand", "dirty fine sand"}, ValleyGravel: {"clayey gravel", "gravel with clay"},
		ConfiningClay: {"blue clay", "fat blue clay"}, ConfinedSand: {"medium sand", "clean medium sand"},
		DuneSand: {"fine white sand", "dune sand, fine"}, BeachSand: {"medium sand with shells", "medium sand"},
		LagoonClay: {"black clay with shells", "soft black clay"}, OldBeachSand: {"coarse sand", "coarse sand with shells"},
	},
	French: {
		TopSoil: {"terre végétale", "humus"}, Crust: {"cuirasse latéritique", "carapace", "cuirasse"},
		MottledClay: {"argile bariolée", "argile rouge"}, Saprolite: {"altérites", "roche pourrie", "saprolite"},
		Grus: {"arène granitique", "altérites sableuses"}, BrokenRock: {"roche fissurée", "socle fracturé"}, FreshRock: {"roche saine", "socle sain"},
		FloodClay: {"argile grise", "argile noire", "argile limoneuse"}, FloodSilt: {"limon", "limon sableux"}, LowerClay: {"argile plastique", "argile compacte"},
		FineLens: {"sable fin", "sable fin gris"}, MediumLens: {"sable moyen"}, CoarseLens: {"sable grossier"},
		GravelLens: {"gravier", "graviers et galets"}, DirtyLens: {"sable fin argileux"}, ValleyGravel: {"gravier argileux"},
		ConfiningClay: {"argile bleue", "argile plastique bleue"}, ConfinedSand: {"sable moyen", "sable moyen propre"},
		DuneSand: {"sable fin blanc", "sable dunaire fin"}, BeachSand: {"sable moyen coquillier", "sable moyen"},
		LagoonClay: {"argile noire coquillière", "vase argileuse"}, OldBeachSand: {"sable grossier", "sable grossier coquillier"},
	},
	Portuguese: {
		TopSoil: {"terra vegetal", "solo superficial"}, Crust: {"couraça laterítica", "canga"},
		MottledClay: {"argila mosqueada", "barro vermelho"}, Saprolite: {"rocha decomposta", "saprólito", "rocha alterada"},
		Grus: {"rocha alterada arenosa", "saibro grosso"}, BrokenRock: {"rocha fissurada", "rocha fraturada"}, FreshRock: {"rocha sã", "rocha dura"},
		FloodClay: {"argila cinzenta", "argila negra", "barro"}, FloodSilt: {"silte", "silte arenoso"}, LowerClay: {"argila dura", "argila"},
		FineLens: {"areia fina", "areia fina cinzenta"}, MediumLens: {"areia média"}, CoarseLens: {"areia grossa"},
		GravelLens: {"cascalho", "cascalho com seixos"}, DirtyLens: {"areia fina argilosa"}, ValleyGravel: {"cascalho argiloso"},
		ConfiningClay: {"argila azul", "barro azul"}, ConfinedSand: {"areia média", "areia média limpa"},
		DuneSand: {"areia fina branca", "areia de duna fina"}, BeachSand: {"areia média com conchas", "areia média"},
		LagoonClay: {"argila negra com conchas", "lodo argiloso"}, OldBeachSand: {"areia grossa", "areia grossa com conchas"},
	},
}

// perchedWords is what crews note of wet-season water on the crust.
var perchedWords = map[Lang]string{
	English: "seepage on laterite, wet season", French: "suintement sur cuirasse, hivernage", Portuguese: "infiltração sobre a couraça, época das chuvas",
}
