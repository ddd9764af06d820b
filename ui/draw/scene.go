package draw

// Point is a place on the paper in millimetres: x to the right, y downwards from the
// upper left corner.
type Point struct{ X, Y float64 }

// Scene is a drawing: shapes on a sheet, painted in order.
type Scene struct {
	WidthMM, HeightMM float64
	ID                string // prefix of the names inside; differs for each drawing of one page
	Title             string // what the drawing is, read aloud by screen readers
	Desc              string // what it shows, in a sentence or two
	Items             []Item
}

// Item is a shape of a scene: [Path], [Circle], [Rect], [Text] or [Group].
type Item interface{ item() }

// Stroke is how a line is drawn. The zero value draws none.
type Stroke struct {
	Color   string // "#rrggbb"
	WidthMM float64
	Dash    []float64 // lengths of dashes and gaps in turn, mm
}

// Fill is how an area is filled. The zero value leaves it open.
type Fill struct {
	Color   string // "#rrggbb"
	Pattern string // key of the soil class whose marks are laid over the colour
}

// Path is a line through points, or an area when closed.
type Path struct {
	Points []Point
	Closed bool
	Fill   Fill
	Stroke Stroke
}

// Circle is a disc or a ring.
type Circle struct {
	Center   Point
	RadiusMM float64
	Fill     Fill
	Stroke   Stroke
}

// Rect is an upright rectangle.
type Rect struct {
	X, Y, WidthMM, HeightMM float64
	Fill                    Fill
	Stroke                  Stroke
}

// Anchor says which part of a text stands at its point.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Text is one line of words. The point is on the base line.
type Text struct {
	At     Point
	Words  string
	SizeMM float64
	Anchor Anchor  // Start when empty
	Rotate float64 // degrees clockwise about the point
	Bold   bool
	Color  string // ink when empty
	Halo   bool   // a white rim, to stay readable over lines
}

// Group holds items together; with a clip only what lies inside it shows.
type Group struct {
	Title string  // read aloud and shown on pointing; empty for none
	Clip  []Point // a closed area; nil for no clip
	Items []Item
}

func (Path) item()   {}
func (Circle) item() {}
func (Rect) item()   {}
func (Text) item()   {}
func (Group) item()  {}

// ink is the colour of words and lines.
const ink = "#1f2328"

func line(color string, widthMM float64, dash ...float64) Stroke {
	return Stroke{Color: color, WidthMM: widthMM, Dash: dash}
}

func segment(x1, y1, x2, y2 float64, s Stroke) Path {
	return Path{Points: []Point{{x1, y1}, {x2, y2}}, Stroke: s}
}
