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
var heads = map[string]column{
	"time": timeColumn, "t": timeColumn, "t'": timeColumn, "temps": timeColumn, "tempo": timeColumn, "elapsed time": timeColumn, "elapsed": timeColumn,
	"time since stop": timeColumn, "time since pumping stopped": timeColumn,
	"t/t'": ratioColumn, "ratio": ratioColumn,
	"drawdown": drawdownColumn, "s": drawdownColumn, "s'": drawdownColumn, "rabattement": drawdownColumn, "rebaixamento": drawdownColumn,
	"residual drawdown": drawdownColumn, "residual": drawdownColumn, "displacement": drawdownColumn, "head": drawdownColumn, "h": drawdownColumn, "y": drawdownColumn,
	"deplacement": drawdownColumn, "deslocamento": drawdownColumn, "rabattement residuel": drawdownColumn, "rebaixamento residual": drawdownColumn,
	"level": levelColumn, "depth": levelColumn, "water level": levelColumn, "depth to water": levelColumn, "niveau": levelColumn, "profondeur": levelColumn,
	"nivel": levelColumn, "profundidade": levelColumn,
	"distance": distanceColumn, "r": distanceColumn, "distancia": distanceColumn, "radius": distanceColumn,
	"discharge": dischargeColumn, "q": dischargeColumn, "rate": dischargeColumn, "debit": dischargeColumn, "caudal": dischargeColumn, "flow": dischargeColumn, "pumping rate": dischargeColumn,
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
	"storage":   {none, func(s *Sheet) *geo.Opt[float64] { return &s.Storage }},
}

// Names lists the values of the whole test in the order of forms.
func Names() []string {
	return []string{"discharge", "distance", "hole", "pipe", "rest", "pumped", "after", "thickness", "screen", "foot", "start", "storage"}
}

// otherWords are the names of the values in French and Portuguese, without accents.
var otherWords = map[string]string{
	"q": "discharge", "rate": "discharge", "debit": "discharge", "caudal": "discharge", "r": "distance", "distancia": "distance",
	"trou": "hole", "furo": "hole", "tube": "pipe", "tubo": "pipe", "casing": "pipe", "repos": "rest", "repouso": "rest", "rest level": "rest",
	"pompe": "pumped", "bombeado": "pumped", "apres": "after", "depois": "after", "epaisseur": "thickness", "espessura": "thickness", "b": "thickness",
	"crepine": "screen", "filtro": "screen", "pied": "foot", "pe": "foot", "debut": "start", "inicio": "start", "stockage": "storage", "armazenamento": "storage",
}
