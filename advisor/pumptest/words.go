package pumptest

import (
	"strings"

	"waterstrike/geo"
)

// column is what a column of the table may hold.
type column uint8

const (
	timeColumn column = iota
	ratioColumn
	drawdownColumn
	levelColumn
	distanceColumn
	dischargeColumn
)

// of is what the numbers of a column measure.
func (c column) of() dimension {
	switch c {
	case timeColumn:
		return duration
	case dischargeColumn:
		return discharge
	case ratioColumn:
		return none
	}
	return length
}

// heads are the words for the columns, in English, French and Portuguese, without accents.
var heads = headsOf(map[column]string{
	timeColumn: "time, t, t', elapsed time, elapsed, time elapsed, pumping time, time of pumping, time since start, time since pumping started, " +
		"time since pumping began, time since pump started, time since pump on, time after pumping started, time since stop, time since pumping stopped, " +
		"time since pump stopped, time since pump off, time since bailing ended, recovery time, duration, " +
		"temps, tps, duree, temps ecoule, temps depuis le debut, temps depuis le debut du pompage, temps de pompage, temps depuis l'arret, " +
		"temps depuis l'arret du pompage, temps depuis l'arret de la pompe, temps de remontee, " +
		"tempo, duracao, tempo decorrido, tempo desde o inicio, tempo desde o inicio da bombagem, tempo desde o inicio do bombeamento, " +
		"tempo de bombagem, tempo de bombeamento, tempo desde a paragem, tempo desde a parada, tempo de recuperacao",
	ratioColumn: "t/t', t/t'', ratio, time ratio, rapport, razao",
	drawdownColumn: "drawdown, s, s', observed drawdown, measured drawdown, residual drawdown, residual, displacement, head, h, y, head change, " +
		"rabattement, abaissement, rabattement residuel, rabattement observe, rabattement mesure, deplacement, " +
		"rebaixamento, rebaixamento residual, rebaixamento observado, abatimento, deslocamento",
	levelColumn: "level, depth, water level, depth to water, dtw, water depth, dynamic level, dynamic water level, pumping level, pumping water level, static level, " +
		"niveau, profondeur, niveau d'eau, niveau dynamique, niveau de l'eau, profondeur de l'eau, profondeur du niveau, " +
		"nivel, profundidade, nivel da agua, nivel de agua, nivel dinamico, profundidade da agua, profundidade do nivel",
	distanceColumn:  "distance, r, radius, radial distance, distance from well, distance from pumped well, distance au puits, rayon, distancia, distancia ao poco, raio",
	dischargeColumn: "discharge, q, rate, flow, flow rate, pumping rate, yield, debit, debit de pompage, caudal, vazao, caudal de bombagem",
})

// headsOf turns lists of words round.
func headsOf(lists map[column]string) map[string]column {
	out := map[string]column{}
	for c, words := range lists {
		for word := range strings.SplitSeq(words, ", ") {
			out[word] = c
		}
	}
	return out
}

// plain takes case, accents and odd apostrophes off a word.
func plain(word string) string {
	word = strings.Join(strings.Fields(strings.ToLower(word)), " ")
	return strings.NewReplacer("’", "'", "′", "'", "é", "e", "è", "e", "ê", "e", "á", "a", "â", "a", "ã", "a", "í", "i", "ó", "o", "ç", "c", "_", " ").Replace(word)
}

// given is a value of the whole test that a line may state.
type given struct {
	of  dimension
	set func(*Sheet) *geo.Opt[float64]
}

// example is how a value may be written.
func (g given) example(name string) string {
	switch name {
	case "hole":
		return "150 mm"
	case "pipe":
		return "110 mm"
	case "half":
		return "6 min"
	case "quarter":
		return "14 min"
	}
	return g.of.example()
}

// givens are the values by the words that name them.
var givens = map[string]given{
	"discharge": {discharge, func(s *Sheet) *geo.Opt[float64] { return &s.Discharge }},
	"distance":  {length, func(s *Sheet) *geo.Opt[float64] { return &s.DistanceM }},
	"hole":      {length, func(s *Sheet) *geo.Opt[float64] { return &s.HoleM }},
	"pipe":      {length, func(s *Sheet) *geo.Opt[float64] { return &s.PipeM }},
	"rest":      {length, func(s *Sheet) *geo.Opt[float64] { return &s.RestM }},
	"pumped":    {duration, func(s *Sheet) *geo.Opt[float64] { return &s.PumpedDays }},
	"after":     {duration, func(s *Sheet) *geo.Opt[float64] { return &s.AfterDays }},
	"thickness": {length, func(s *Sheet) *geo.Opt[float64] { return &s.ThickM }},
	"screen":    {length, func(s *Sheet) *geo.Opt[float64] { return &s.ScreenM }},
	"foot":      {length, func(s *Sheet) *geo.Opt[float64] { return &s.FootM }},
	"start":     {length, func(s *Sheet) *geo.Opt[float64] { return &s.StartM }},
	"fall":      {length, func(s *Sheet) *geo.Opt[float64] { return &s.StartM }},
	"half":      {duration, func(s *Sheet) *geo.Opt[float64] { return &s.HalfDays }},
	"quarter":   {duration, func(s *Sheet) *geo.Opt[float64] { return &s.QuartDays }},
	"usable":    {length, func(s *Sheet) *geo.Opt[float64] { return &s.UsableM }},
	"storage":   {none, func(s *Sheet) *geo.Opt[float64] { return &s.Storage }},
}

// Names lists the values of the whole test in the order of forms.
func Names() []string {
	return []string{"discharge", "distance", "hole", "pipe", "rest", "pumped", "after", "thickness", "screen", "foot", "start", "fall", "half", "quarter", "usable", "storage", "buckets", "bailed"}
}

// otherWords are the names of the values in French and Portuguese, without accents.
var otherWords = map[string]string{
	"chute": "fall", "queda": "fall", "greatest drawdown": "fall", "smax": "fall", "s max": "fall", "moitie": "half", "metade": "half", "t50": "half",
	"quart": "quarter", "quarto": "quarter", "t75": "quarter", "utilisable": "usable", "utilizavel": "usable", "available": "usable",
	"seaux": "buckets", "baldes": "buckets", "bucket": "buckets", "puise": "bailed", "retirado": "bailed", "bails": "bailed",
	"pumping rate": "discharge", "flow": "discharge", "flow rate": "discharge", "yield": "discharge", "vazao": "discharge", "debit de pompage": "discharge",
	"static level": "rest", "static water level": "rest", "rest water level": "rest", "swl": "rest", "niveau statique": "rest", "nivel estatico": "rest",
	"rayon": "distance", "raio": "distance", "radius": "distance", "pumping time": "pumped", "duree du pompage": "pumped", "tempo de bombagem": "pumped",
	"aquifer thickness": "thickness", "hole diameter": "hole", "borehole diameter": "hole", "h0": "start", "ho": "start", "initial displacement": "start",
	"screen length": "screen", "s": "storage", "storativity": "storage",
	"q": "discharge", "rate": "discharge", "debit": "discharge", "caudal": "discharge", "r": "distance", "distancia": "distance",
	"trou": "hole", "furo": "hole", "tube": "pipe", "tubo": "pipe", "casing": "pipe", "repos": "rest", "repouso": "rest", "rest level": "rest",
	"pompe": "pumped", "bombeado": "pumped", "apres": "after", "depois": "after", "epaisseur": "thickness", "espessura": "thickness", "b": "thickness",
	"crepine": "screen", "filtro": "screen", "pied": "foot", "pe": "foot", "debut": "start", "inicio": "start", "stockage": "storage", "armazenamento": "storage",
}

// kindWords are the kinds in French and Portuguese, without accents.
var kindWords = map[string]Kind{
	"rabattement": Drawdown, "rebaixamento": Drawdown, "descente": Drawdown, "pumping": Drawdown, "pompage": Drawdown, "bombagem": Drawdown, "constant rate": Drawdown,
	"remontee": Recovery, "recuperation": Recovery, "recuperacao": Recovery, "distances": Distance, "distancia": Distance, "distancias": Distance,
	"paliers": Steps, "escaloes": Steps, "step": Steps, "step test": Steps, "choc": Slug, "golpe": Slug, "slug test": Slug,
	"puisage": Bailer, "balde de poco": Bailer, "bailer test": Bailer, "seaux": Buckets, "baldes": Buckets,
}
