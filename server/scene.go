package server

import (
	"bytes"
	"html/template"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"waterstrike/ui/draw"
)

// sendScene answers with a drawing, or with an error before anything is sent.
func sendScene(c echo.Context, scene draw.Scene) error {
	var body bytes.Buffer
	if err := scene.WriteSVG(&body); err != nil {
		return err
	}
	return c.Blob(http.StatusOK, "image/svg+xml", body.Bytes())
}

// inPage returns a drawing to stand in a page.
func inPage(scene draw.Scene) (template.HTML, error) {
	var svg strings.Builder
	err := scene.WriteSVG(&svg)
	return template.HTML(svg.String()), err
}
