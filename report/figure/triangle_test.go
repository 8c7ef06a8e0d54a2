package figure

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestTriangleCorners(t *testing.T) {
	tests := []struct {
		at   Share
		x, y float64
	}{
		{Share{1, 0, 0}, 0, 0},
		{Share{0, 1, 0}, 0.5, math.Sqrt(3) / 2},
		{Share{0, 0, 1}, 1, 0},
		{Share{1. / 3, 1. / 3, 1. / 3}, 0.5, math.Sqrt(3) / 6}, // the centroid, a third of the height up
	}
	for _, tt := range tests {
		if x, y := (Triangle{}).Place(tt.at); math.Abs(x-tt.x) > 1e-15 || math.Abs(y-tt.y) > 1e-15 {
			t.Errorf("Place(%v) = %v, %v, want %v, %v", tt.at, x, y, tt.x, tt.y)
		}
	}
}

func TestTriangleIsEquilateral(t *testing.T) {
	corners := []Share{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for i := range corners {
		if d := distance(corners[i], corners[(i+1)%3]); math.Abs(d-1) > 1e-15 {
			t.Errorf("side %d is %v long, want 1", i, d)
		}
	}
}

// In an equilateral triangle the distances of a point from the three sides add
// to the height (Viviani's theorem); each must be its share of the height.
func TestTriangleShareIsDistanceFromSide(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		s := randomShare(rng)
		x, y := Triangle{}.Place(s)
		fromSides := Share{
			math.Abs(math.Sqrt(3)*(x-1)+y) / 2,
			y,
			math.Abs(math.Sqrt(3)*x-y) / 2,
		}
		for k := range s {
			if want := s[k] * TriangleHeight; math.Abs(fromSides[k]-want) > 1e-12 {
				t.Fatalf("share %v: distance from the side opposite corner %d is %v, want %v", s, k, fromSides[k], want)
			}
		}
		if back := (Triangle{}).Share(x, y); distance(back, s) > 1e-12 {
			t.Fatalf("Share(Place(%v)) = %v", s, back)
		}
	}
}

func TestClip(t *testing.T) {
	in, in2 := Share{0.5, 0.3, 0.2}, Share{0.2, 0.6, 0.2}
	tests := []struct {
		name string
		line []Share
		want [][]Share
	}{
		{"inside stays as it is", []Share{in, in2}, [][]Share{{in, in2}}},
		{"outside vanishes", []Share{{1.2, -0.1, -0.1}, {0.7, -0.2, 0.5}}, nil},
		{"leaves through the side where a share is zero", []Share{{0.4, 0.4, 0.2}, {0.8, 0.4, -0.2}}, [][]Share{{{0.4, 0.4, 0.2}, {0.6, 0.4, 0}}}},
		{"passes through", []Share{{-0.25, 0.75, 0.5}, {0.75, -0.25, 0.5}}, [][]Share{{{0, 0.5, 0.5}, {0.5, 0, 0.5}}}},
		{"leaves and returns", []Share{in, {0.5, 0.7, -0.2}, in2}, [][]Share{{in, {0.5, 0.5, 0}}, {{0.35, 0.65, 0}, in2}}},
		{"misses a corner", []Share{{1.3, -0.4, 0.1}, {1.3, 0.1, -0.4}}, nil},
		{"along a side", []Share{{1, 0, 0}, {0, 1, 0}}, [][]Share{{{1, 0, 0}, {0, 1, 0}}}},
		{"a single place is no line", []Share{in}, nil},
		{"nothing", nil, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := Triangle{}.Clip(tt.line)
			if len(got) != len(tt.want) {
				t.Fatalf("Clip(%v) = %v, want %v", tt.line, got, tt.want)
			}
			for i := range got {
				if len(got[i]) != len(tt.want[i]) {
					t.Fatalf("part %d = %v, want %v", i, got[i], tt.want[i])
				}
				for k := range got[i] {
					if distance(got[i][k], tt.want[i][k]) > 1e-12 {
						t.Errorf("part %d = %v, want %v", i, got[i], tt.want[i])
					}
				}
			}
		})
	}
}

func TestClipStaysInsideAndIsFinal(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		var line []Share
		for range 12 {
			s := randomShare(rng)
			for k := range s { // stretched about the centroid, so that many leave the triangle
				s[k] = 1./3 + 2.2*(s[k]-1./3)
			}
			line = append(line, s)
		}
		for _, part := range (Triangle{}).Clip(line) {
			for _, s := range part {
				if !(Triangle{}).Contains(s) || math.Abs(s[0]+s[1]+s[2]-1) > 1e-9 {
					t.Fatalf("%v left in the part %v", s, part)
				}
			}
			if again := (Triangle{}).Clip(part); len(again) != 1 || len(again[0]) != len(part) {
				t.Fatalf("clipping %v again gives %v", part, again)
			}
		}
	}
}

func TestGrid(t *testing.T) {
	lines := Triangle{}.Grid(10)
	if len(lines) != 27 {
		t.Fatalf("%d lines, want 27", len(lines))
	}
	sides := [3]int{2, 0, 1} // the share that is zero where a corner's lines are lettered
	for _, l := range lines {
		if l.From[l.Corner] != l.Value || l.To[l.Corner] != l.Value {
			t.Errorf("line %+v is not one of equal share", l)
		}
		if l.From[sides[l.Corner]] != 0 {
			t.Errorf("line %+v is lettered on the wrong side", l)
		}
		x0, y0 := Triangle{}.Place(l.From)
		x1, y1 := Triangle{}.Place(l.To)
		lean := math.Atan2(y1-y0, x1-x0) * 180 / math.Pi
		want := Triangle{}.LetteringAngle(l.Corner)
		if d := math.Mod(lean-want+360, 180); d > 1e-6 && d < 180-1e-6 {
			t.Errorf("line %+v leans %v°, its letters %v°", l, lean, want)
		}
	}
}

func distance(a, b Share) float64 {
	x0, y0 := Triangle{}.Place(a)
	x1, y1 := Triangle{}.Place(b)
	return math.Hypot(x1-x0, y1-y0)
}

func randomShare(rng *rand.Rand) Share {
	a, b, c := rng.Float64(), rng.Float64(), rng.Float64()
	sum := a + b + c
	return Share{a / sum, b / sum, c / sum}
}
