package notebook

import (
	"encoding"
	"math"
	"reflect"
	"strconv"
	"strings"
	"unicode"

	"go.yaml.in/yaml/v3"

	"smeltbook/assay/source"
)

// decoder fills Go values from YAML nodes. Unlike the library's own decoding
// it goes on after a mistake, so that one run tells of all of them, and it
// suggests what a misspelt key was meant to be.
type decoder struct {
	file    string
	notices source.Notices
}

func (d *decoder) fail(line int, code, format string, args ...any) {
	d.notices = append(d.notices, notice(d.file, line, source.Error, code, format, args...))
}

// into decodes a mapping into the struct that v points to.
func (d *decoder) into(n *yaml.Node, v any) {
	d.value(n, rv(v), "the options")
}

var (
	nodeType = reflect.TypeFor[yaml.Node]()
	textType = reflect.TypeFor[encoding.TextUnmarshaler]()
)

// value decodes n into v, which is called name in messages.
func (d *decoder) value(n *yaml.Node, v reflect.Value, name string) {
	if n.Kind == yaml.AliasNode || n.Anchor != "" {
		d.fail(n.Line, "YAML_ALIAS", "%s uses a YAML anchor or alias (& or *); write the value out, or put it in quotation marks", name)
		return
	}
	switch {
	case v.Type() == nodeType:
		v.Set(reflect.ValueOf(*n))
		return
	case v.Addr().Type().Implements(textType):
		if text, ok := d.text(n, name); ok {
			if err := v.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(text)); err != nil {
				d.fail(n.Line, "WRONG_VALUE", "%s: %v", name, err)
			}
		}
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		p := reflect.New(v.Type().Elem())
		before := len(d.notices)
		d.value(n, p.Elem(), name)
		if len(d.notices) == before {
			v.Set(p)
		}
	case reflect.Struct:
		d.structure(n, v, name)
	case reflect.Map:
		d.mapping(n, v, name)
	case reflect.Slice:
		d.list(n, v, name)
	default:
		d.scalar(n, v, name)
	}
}

func (d *decoder) structure(n *yaml.Node, v reflect.Value, name string) {
	fields, keys := map[string]int{}, []string{}
	for i := range v.NumField() {
		if key := fieldKey(v.Type().Field(i)); key != "" {
			fields[key] = i
			keys = append(keys, key)
		}
	}
	for _, p := range d.pairs(n, name) {
		i, ok := fields[p.key]
		if !ok {
			d.unknown(p.line, p.key, keys)
			continue
		}
		d.value(p.value, v.Field(i), strconv.Quote(p.key))
	}
}

// unknown tells of a key that is not in the list.
func (d *decoder) unknown(line int, key string, keys []string) {
	switch near := source.Nearest(key, keys); {
	case near != "":
		d.fail(line, "UNKNOWN_KEY", "there is no key %q here; did you mean %q?", key, near)
	case len(keys) == 0:
		d.fail(line, "UNKNOWN_KEY", "there is no key %q here; this entry takes no options but \"title\"", key)
	default:
		d.fail(line, "UNKNOWN_KEY", "there is no key %q here; the keys are %s", key, strings.Join(keys, ", "))
	}
}

func (d *decoder) mapping(n *yaml.Node, v reflect.Value, name string) {
	m := reflect.MakeMap(v.Type())
	for _, p := range d.pairs(n, name) {
		key := reflect.New(v.Type().Key()).Elem()
		value := reflect.New(v.Type().Elem()).Elem()
		d.scalar(&yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: p.key, Line: p.line}, key, name)
		d.value(p.value, value, strconv.Quote(p.key))
		m.SetMapIndex(key, value)
	}
	v.Set(m)
}

// list decodes a list; a single value counts as a list of one.
func (d *decoder) list(n *yaml.Node, v reflect.Value, name string) {
	items := []*yaml.Node{n}
	switch {
	case n.Kind == yaml.SequenceNode:
		items = n.Content
	case isNull(n):
		items = nil
	}
	out := reflect.MakeSlice(v.Type(), 0, len(items))
	for _, item := range items {
		one := reflect.New(v.Type().Elem()).Elem()
		before := len(d.notices)
		d.value(item, one, name)
		if len(d.notices) == before {
			out = reflect.Append(out, one)
		}
	}
	v.Set(out)
}

func (d *decoder) scalar(n *yaml.Node, v reflect.Value, name string) {
	wrong := func(want string) {
		d.fail(n.Line, "WRONG_TYPE", "%s should be %s, but %s stands there", name, want, describe(n))
	}
	switch {
	case v.Kind() == reflect.String:
		if text, ok := d.text(n, name); ok {
			v.SetString(text)
		}
	case v.Kind() == reflect.Bool:
		if b, err := strconv.ParseBool(n.Value); err == nil && n.Kind == yaml.ScalarNode && n.ShortTag() == "!!bool" {
			v.SetBool(b)
			return
		}
		wrong("true or false")
	case v.CanInt():
		if i, err := strconv.ParseInt(n.Value, 10, 64); err == nil && n.Kind == yaml.ScalarNode && !v.OverflowInt(i) {
			v.SetInt(i)
			return
		}
		wrong("a whole number")
	case v.CanUint():
		if u, err := strconv.ParseUint(n.Value, 10, 64); err == nil && n.Kind == yaml.ScalarNode && !v.OverflowUint(u) {
			v.SetUint(u)
			return
		}
		wrong("a whole number, zero or more")
	case v.CanFloat():
		f, err := strconv.ParseFloat(n.Value, 64)
		if err == nil && n.Kind == yaml.ScalarNode && !math.IsNaN(f) && !math.IsInf(f, 0) {
			v.SetFloat(f)
			return
		}
		wrong("a number")
	default:
		d.fail(n.Line, "WRONG_TYPE", "%s cannot be set from a notebook", name)
	}
}

// text returns a scalar as it is written; numbers and dates are text too.
func (d *decoder) text(n *yaml.Node, name string) (string, bool) {
	if n.Kind != yaml.ScalarNode || isNull(n) {
		d.fail(n.Line, "WRONG_TYPE", "%s should be one piece of text, but %s stands there", name, describe(n))
		return "", false
	}
	return n.Value, true
}

// pair is one key of a mapping with its value.
type pair struct {
	key   string
	line  int
	value *yaml.Node
}

// pairs returns the keys and values of a mapping in order, without keys given
// twice.
func (d *decoder) pairs(n *yaml.Node, name string) []pair {
	if isNull(n) {
		return nil
	}
	if n.Kind != yaml.MappingNode {
		d.fail(n.Line, "WRONG_TYPE", "%s should be lines of the form \"key: value\", but %s stands there", name, describe(n))
		return nil
	}
	var out []pair
	seen := map[string]int{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if k.Kind != yaml.ScalarNode || k.Anchor != "" {
			d.fail(k.Line, "WRONG_TYPE", "a key of %s should be one word, but %s stands there", name, describe(k))
			continue
		}
		if first, twice := seen[k.Value]; twice {
			d.fail(k.Line, "KEY_TWICE", "the key %q is given twice, first on line %d; keep one", k.Value, first)
			continue
		}
		seen[k.Value] = k.Line
		out = append(out, pair{k.Value, k.Line, v})
	}
	return out
}

func isNull(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.ShortTag() == "!!null"
}

// describe says in words what a node is.
func describe(n *yaml.Node) string {
	switch n.Kind {
	case yaml.SequenceNode:
		return "a list"
	case yaml.MappingNode:
		return "a mapping"
	case yaml.AliasNode:
		return "an alias"
	}
	if isNull(n) {
		return "nothing"
	}
	value := []rune(n.Value)
	if len(value) > 40 {
		value = append(value[:40], '…')
	}
	return strconv.Quote(string(value))
}

// fieldKey returns the key of a struct field: its yaml or json tag, or its
// name in lower_snake_case; empty for a field that is not decoded.
func fieldKey(f reflect.StructField) string {
	if !f.IsExported() {
		return ""
	}
	for _, kind := range []string{"yaml", "json"} {
		if tag, ok := f.Tag.Lookup(kind); ok {
			key, _, _ := strings.Cut(tag, ",")
			if key == "-" {
				return ""
			}
			if key != "" {
				return key
			}
		}
	}
	var b strings.Builder
	runes := []rune(f.Name)
	for i, r := range runes {
		if unicode.IsUpper(r) && i > 0 && (unicode.IsLower(runes[i-1]) || i+1 < len(runes) && unicode.IsLower(runes[i+1])) {
			b.WriteByte('_')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// rv returns what v points to, ready to be set.
func rv(v any) reflect.Value { return reflect.ValueOf(v).Elem() }
