//go:build deps

package deps

import (
	_ "github.com/chromedp/chromedp"
	_ "github.com/go-echarts/go-echarts/v2/charts"
	_ "github.com/google/go-cmp/cmp"
	_ "github.com/rogpeppe/go-internal/testscript"
	_ "github.com/spf13/cobra"
	_ "github.com/xuri/excelize/v2"
	_ "github.com/yuin/goldmark"
	_ "go.yaml.in/yaml/v3"
	_ "golang.org/x/net/html"
	_ "golang.org/x/text/encoding/charmap"
	_ "gonum.org/v1/gonum/stat"
	_ "gonum.org/v1/plot/vg/vgsvg"
	_ "gonum.org/v1/plot/vg/draw"
	_ "gonum.org/v1/plot/font/liberation"
)
