package terrain

import (
	"waterstrike/geo/coord"
)

// The GeoKeys read here and some of their values.
const (
	keyModel      = 1024
	keyRaster     = 1025
	keyGeographic = 2048
	keyProjected  = 3072
	keyVertical   = 4099 // units

	modelProjected  = 1
	modelGeographic = 2
	rasterIsPoint   = 2
	metre           = 9001
	userDefined     = 32767
)

// place reads the frame's corner, cells and system.
func (t *tiff) place() error {
	keys := t.geoKeys()
	if unit, given := keys[keyVertical]; given && unit != metre && unit != 0 && unit != userDefined {
		return unread("elevations in the unit EPSG:%d; convert them to metres (gdal_calc)", unit)
	}
	if err := t.corner(); err != nil {
		return err
	}
	// Pixels that are points stand at their corner's coordinates.
	if keys[keyRaster] == rasterIsPoint {
		t.at.West -= t.at.CellX / 2
		t.at.North += t.at.CellY / 2
	}
	return t.system(keys)
}

// corner reads the north-west corner and the sizes of a pixel.
func (t *tiff) corner() error {
	scale, tie := t.tags.doubles(tagPixelScale), t.tags.doubles(tagTiepoint)
	if len(scale) >= 2 && len(tie) >= 6 {
		t.at.CellX, t.at.CellY = scale[0], scale[1]
		t.at.West = tie[3] - tie[0]*scale[0]
		t.at.North = tie[4] + tie[1]*scale[1]
		return nil
	}
	m := t.tags.doubles(tagTransformation)
	if len(m) < 16 {
		return unread("no tag says where it lies; give it its place (gdal_translate -a_srs -a_ullr)")
	}
	if m[1] != 0 || m[4] != 0 || m[0] <= 0 || m[5] >= 0 {
		return unread("its rows do not run from west to east and north to south; turn it (gdalwarp)")
	}
	t.at.CellX, t.at.CellY, t.at.West, t.at.North = m[0], -m[5], m[3], m[7]
	return nil
}

// geoKeys reads the keys that hold one short number in the directory itself.
func (t *tiff) geoKeys() map[uint64]uint64 {
	keys := map[uint64]uint64{}
	for d := t.tags.numbers(tagGeoKeys); len(d) >= 8; d = d[4:] {
		if id, where, value := d[4], d[5], d[7]; where == 0 {
			keys[id] = value
		}
	}
	return keys
}

// system reads the system; without any key it is guessed from the coordinates.
func (t *tiff) system(keys map[uint64]uint64) error {
	code := keys[keyProjected]
	switch keys[keyModel] {
	case modelProjected:
	case modelGeographic:
		if code = keys[keyGeographic]; code == 0 {
			code = uint64(coord.WGS84.EPSG())
		}
	case 0:
		if code == 0 {
			t.at.System = guessSystem(t.at, "")
			return nil
		}
	}
	s, ok := systemOf(int(code))
	if !ok {
		return unread("the system EPSG:%d is not known here; warp it to degrees or UTM on WGS 84 (gdalwarp -t_srs EPSG:4326)", code)
	}
	t.at.System = s
	return nil
}
