package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// mutant is one change.
type mutant struct {
	id      int
	file    string // from the root of the module
	line    int
	what    string // "boundary: < to <="
	source  string // the line as it stands
	rebuild bool   // a declared constant: the program is built for it
	change  edit   // what to write then
	dropped bool   // it does not compile
	equal   bool   // it survived and is known to change nothing

	tests   []*test
	outcome outcome
}

// edit replaces text of a file; of several at one place the lower order comes first.
type edit struct {
	from, to int
	text     string
	order    int
	mutant   *mutant
}

// pkg is one package with its changes.
type pkg struct {
	root, dir, path, name, goName string
	files                         []string // absolute
	text                          map[string][]byte
	edits                         map[string][]edit
	mutants                       []*mutant
	temp, program                 string
	tests                         []*test
	left                          []string // tests that are too slow

	fset  *token.FileSet
	info  *types.Info
	types *types.Package
	order int
	named string // text of all tests
}

// load finds all changes of one package.
func load(root, pattern string) (*pkg, error) {
	cmd := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Dir,GoFiles,CgoFiles,TestGoFiles,XTestGoFiles,Export,Name,DepOnly", pattern)
	cmd.Dir = root
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("%v: %s", err, stderr.String())
	}
	type listed struct {
		ImportPath, Dir, Export, Name                string
		GoFiles, CgoFiles, TestGoFiles, XTestGoFiles []string
		DepOnly                                      bool
	}
	exports := map[string]string{}
	var me *listed
	for in := json.NewDecoder(bytes.NewReader(out)); ; {
		var l listed
		if err := in.Decode(&l); err == io.EOF {
			break
		} else if err != nil {
			return nil, err
		}
		exports[l.ImportPath] = l.Export
		if !l.DepOnly {
			if me != nil {
				return nil, fmt.Errorf("name one package at a time")
			}
			me = &l
		}
	}
	if me == nil {
		return nil, fmt.Errorf("no such package")
	}
	if len(me.CgoFiles) > 0 {
		return nil, fmt.Errorf("packages with cgo are not tried")
	}
	absolute, err := filepath.Abs(root)
	if err != nil {
		return nil, err
	}
	name, err := filepath.Rel(absolute, me.Dir)
	if err != nil {
		return nil, err
	}
	p := &pkg{root: absolute, dir: me.Dir, path: me.ImportPath, name: filepath.ToSlash(name), goName: me.Name,
		text: map[string][]byte{}, edits: map[string][]edit{}, fset: token.NewFileSet()}
	var files []*ast.File
	for _, f := range me.GoFiles {
		full := filepath.Join(me.Dir, f)
		b, err := os.ReadFile(full)
		if err != nil {
			return nil, err
		}
		parsed, err := parser.ParseFile(p.fset, full, b, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		p.files = append(p.files, full)
		p.text[full] = b
		files = append(files, parsed)
	}
	for _, f := range slices.Concat(me.TestGoFiles, me.XTestGoFiles) {
		b, err := os.ReadFile(filepath.Join(me.Dir, f))
		if err != nil {
			return nil, err
		}
		p.named += string(b)
	}
	p.info = &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}}
	conf := types.Config{Importer: importer.ForCompiler(p.fset, "gc", func(path string) (io.ReadCloser, error) {
		if f := exports[path]; f != "" {
			return os.Open(f)
		}
		return nil, fmt.Errorf("%s was not built", path)
	})}
	if p.types, err = conf.Check(me.ImportPath, p.fset, files, p.info); err != nil {
		return nil, err
	}
	f := finder{pkg: p, declared: map[types.Object]*mutant{}}
	// What a program wrote, such as taught weights, is not for tests to hold by the number.
	files = slices.DeleteFunc(files, ast.IsGenerated)
	for _, file := range files {
		f.constants(file)
	}
	for _, file := range files {
		f.file = file
		f.walk(file)
	}
	return p, nil
}

// finder goes through the files of a package.
type finder struct {
	*pkg
	file     *ast.File
	declared map[types.Object]*mutant // constants of the package
}

func (f finder) place(at token.Pos) (name string, offset, line int) {
	p := f.fset.PositionFor(at, false)
	return p.Filename, p.Offset, p.Line
}

// add is one more change, not yet written.
func (f finder) add(at token.Pos, what string) *mutant {
	name, _, line := f.place(at)
	rel, _ := filepath.Rel(f.root, name)
	lines := bytes.Split(f.text[name], []byte("\n"))
	m := &mutant{id: len(f.mutants), file: filepath.ToSlash(rel), line: line, what: what, source: strings.TrimSpace(string(lines[line-1]))}
	f.pkg.mutants = append(f.pkg.mutants, m)
	return m
}

// write replaces what stands between two places.
func (f finder) write(m *mutant, from, to token.Pos, text string, order int) {
	name, a, _ := f.place(from)
	_, b, _ := f.place(to)
	f.edits[name] = append(f.edits[name], edit{a, b, text, order, m})
}

// wrap puts a call around an expression; calls nest.
func (f finder) wrap(m *mutant, from, to token.Pos, before string) {
	f.pkg.order++
	f.write(m, from, from, before, f.order)
	f.write(m, to, to, ")", -f.order)
}

// constants finds the declared numbers.
func (f finder) constants(file *ast.File) {
	ast.Inspect(file, func(n ast.Node) bool {
		d, ok := n.(*ast.GenDecl)
		if !ok || d.Tok != token.CONST {
			return true
		}
		for _, s := range d.Specs {
			s := s.(*ast.ValueSpec)
			for i, v := range s.Values {
				tv := f.info.Types[v]
				if i >= len(s.Names) || !numeric(tv) || !hasNumber(v) || hasIota(v) {
					continue
				}
				m := f.add(v.Pos(), fmt.Sprintf("constant: %s to %s", s.Names[i].Name, other(tv.Value)))
				_, a, _ := f.place(v.Pos())
				_, b, _ := f.place(v.End())
				m.change = edit{from: a, to: b, text: other(tv.Value)}
				// A test that uses the name must see the change as well.
				m.rebuild = regexp.MustCompile(`\b` + s.Names[i].Name + `\b`).MatchString(f.named)
				f.declared[f.info.Defs[s.Names[i]]] = m
			}
		}
		return false
	})
}

func numeric(tv types.TypeAndValue) bool {
	return tv.Value != nil && (tv.Value.Kind() == constant.Int || tv.Value.Kind() == constant.Float)
}

// other is another number, as the helper mutantOf makes it.
func other(v constant.Value) string {
	ten := constant.MakeInt64(10)
	switch {
	case constant.Sign(v) == 0:
		return "1"
	case v.Kind() == constant.Int && constant.Compare(v, token.LSS, ten):
		return constant.BinaryOp(v, token.ADD, constant.MakeInt64(1)).ExactString()
	}
	twice := constant.BinaryOp(v, token.MUL, constant.MakeInt64(2))
	if v.Kind() == constant.Int {
		return twice.ExactString()
	}
	x, _ := constant.Float64Val(twice)
	return fmt.Sprint(x)
}

func hasNumber(e ast.Expr) (found bool) {
	ast.Inspect(e, func(n ast.Node) bool {
		if l, ok := n.(*ast.BasicLit); ok && (l.Kind == token.INT || l.Kind == token.FLOAT) {
			found = true
		}
		return true
	})
	return found
}

func hasIota(e ast.Expr) (found bool) {
	ast.Inspect(e, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok && id.Name == "iota" {
			found = true
		}
		return true
	})
	return found
}

// walk finds the changes in what is done.
func (f finder) walk(n ast.Node) {
	ast.Inspect(n, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GenDecl:
			if n.Tok == token.CONST {
				f.needed(n)
				return false
			}
		case *ast.ArrayType:
			if n.Len != nil {
				f.needed(n.Len)
			}
			f.walk(n.Elt)
			return false
		case *ast.CompositeLit:
			if n.Type != nil {
				f.walk(n.Type)
			}
			for _, e := range n.Elts {
				if kv, ok := e.(*ast.KeyValueExpr); ok {
					if _, isMap := f.info.Types[n].Type.Underlying().(*types.Map); isMap {
						f.walk(kv.Key)
					} else {
						f.needed(kv.Key)
					}
					f.walk(kv.Value)
				} else {
					f.walk(e)
				}
			}
			return false
		case *ast.CallExpr:
			if s, ok := n.Fun.(*ast.SelectorExpr); ok && (s.Sel.Name == "Inf" || s.Sel.Name == "IsInf") {
				for _, arg := range n.Args {
					if f.info.Types[arg].Value == nil {
						f.walk(arg)
					}
				}
				return false // any number with its sign says the same
			}
			if id, ok := n.Fun.(*ast.Ident); ok && id.Name == "make" && len(n.Args) == 2 {
				if _, isChan := f.info.Types[n.Args[0]].Type.Underlying().(*types.Chan); isChan {
					f.needed(n.Args[1])
					return false
				}
			}
			if id, ok := n.Fun.(*ast.Ident); ok && id.Name == "make" && len(n.Args) == 3 {
				f.walk(n.Args[1])
				f.needed(n.Args[2])
				return false // how much room is set aside changes nothing
			}
		case *ast.ReturnStmt:
			if f.nothing(n) {
				for _, r := range n.Results {
					if f.info.Types[r].Value == nil {
						f.walk(r)
					}
				}
				return false // what comes beside an error or a false is not to be read
			}
		case *ast.IncDecStmt:
			f.step(n)
		case *ast.AssignStmt:
			f.sum(n)
		case *ast.SelectorExpr:
			f.walk(n.X)
			return false
		case ast.Expr:
			return f.expression(n)
		}
		return true
	})
}

// nothing reports whether a return gives an error, or false, beside its values.
func (f finder) nothing(r *ast.ReturnStmt) bool {
	if len(r.Results) < 2 {
		return false
	}
	last := r.Results[len(r.Results)-1]
	tv := f.info.Types[last]
	if tv.Value != nil && tv.Value.Kind() == constant.Bool {
		return !constant.BoolVal(tv.Value)
	}
	return tv.Type != nil && !tv.IsNil() && types.Implements(tv.Type, types.Universe.Lookup("error").Type().Underlying().(*types.Interface))
}

// needed marks declared numbers that stand where only a constant may.
func (f finder) needed(n ast.Node) {
	ast.Inspect(n, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok {
			if m := f.declared[f.info.Uses[id]]; m != nil {
				m.rebuild = true
			}
		}
		return true
	})
}

// expression finds the changes of one expression, and says whether to look inside.
func (f finder) expression(e ast.Expr) (inside bool) {
	tv := f.info.Types[e]
	if tv.Value != nil {
		f.number(e, tv)
		return false
	}
	switch e := e.(type) {
	case *ast.BinaryExpr:
		f.binary(e)
	case *ast.UnaryExpr:
		if e.Op == token.SUB && isNumber(tv.Type) {
			m := f.add(e.Pos(), "arithmetic: - taken off")
			f.wrap(m, e.Pos(), e.End(), fmt.Sprintf("mutantNeg(%d, ", m.id))
			f.write(m, e.Pos(), e.Pos()+1, "", 1<<30)
		}
	}
	return true
}

// number changes a number, or the use of a declared one.
func (f finder) number(e ast.Expr, tv types.TypeAndValue) {
	if !numeric(tv) {
		return
	}
	name, ok := f.typeName(tv.Type)
	if id, isName := e.(*ast.Ident); isName {
		m := f.declared[f.info.Uses[id]]
		switch {
		case m == nil || m.rebuild:
		case !ok:
			m.rebuild = true
		default:
			f.wrap(m, e.Pos(), e.End(), fmt.Sprintf("mutantOf[%s](%d, ", name, m.id))
		}
		return
	}
	f.needed(e)
	if !ok || !hasNumber(e) {
		return
	}
	m := f.add(e.Pos(), fmt.Sprintf("constant: %s to %s", f.written(e), other(tv.Value)))
	f.wrap(m, e.Pos(), e.End(), fmt.Sprintf("mutantOf[%s](%d, ", name, m.id))
}

func (f finder) written(e ast.Expr) string {
	name, a, _ := f.place(e.Pos())
	_, b, _ := f.place(e.End())
	return strings.Join(strings.Fields(string(f.text[name][a:b])), " ")
}

// typeName is a number's type as this file can write it.
func (f finder) typeName(t types.Type) (string, bool) {
	switch t := t.(type) {
	case *types.Basic:
		return t.Name(), t.Info()&types.IsUntyped == 0 && t.Info()&(types.IsInteger|types.IsFloat) != 0
	case *types.Named:
		o := t.Obj()
		if o.Pkg() == f.types {
			return o.Name(), o.Parent() == f.types.Scope()
		}
		for _, i := range f.file.Imports {
			if strings.Trim(i.Path.Value, `"`) == o.Pkg().Path() {
				if i.Name != nil {
					return i.Name.Name + "." + o.Name(), true
				}
				return o.Pkg().Name() + "." + o.Name(), true
			}
		}
	}
	return "", false
}

func isNumber(t types.Type) bool {
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&(types.IsInteger|types.IsFloat) != 0
}

var comparisons = map[token.Token][2]string{token.LSS: {"mutantLss", "<="}, token.LEQ: {"mutantLeq", "<"}, token.GTR: {"mutantGtr", ">="}, token.GEQ: {"mutantGeq", ">"}}

var arithmetic = map[token.Token][2]string{token.ADD: {"mutantAdd", "-"}, token.SUB: {"mutantSub", "+"}, token.MUL: {"mutantMul", "/"}, token.QUO: {"mutantQuo", "*"}, token.REM: {"mutantRem", "*"}}

func (f finder) binary(e *ast.BinaryExpr) {
	call := func(m *mutant, name string) {
		f.wrap(m, e.Pos(), e.End(), fmt.Sprintf("%s(%d, ", name, m.id))
		f.write(m, e.OpPos, e.OpPos+token.Pos(len(e.Op.String())), ",", 0)
	}
	if c, ok := comparisons[e.Op]; ok {
		m := f.add(e.OpPos, fmt.Sprintf("boundary: %s to %s", e.Op, c[1]))
		f.add(e.OpPos, fmt.Sprintf("negation: of %s", e.Op))
		call(m, c[0])
		return
	}
	if c, ok := arithmetic[e.Op]; ok && isNumber(f.info.Types[e].Type) {
		call(f.add(e.OpPos, fmt.Sprintf("arithmetic: %s to %s", e.Op, c[1])), c[0])
		return
	}
	if e.Op == token.EQL || e.Op == token.NEQ {
		m := f.add(e.OpPos, fmt.Sprintf("negation: of %s", e.Op))
		f.wrap(m, e.Pos(), e.End(), fmt.Sprintf("mutantNot(%d, ", m.id))
	}
}

func (f finder) step(s *ast.IncDecStmt) {
	m := f.add(s.TokPos, fmt.Sprintf("increment: %s turned", s.Tok))
	f.write(m, s.TokPos, s.TokPos+2, fmt.Sprintf("%s= mutantStep(%d, %s)", s.Tok.String()[:1], m.id, f.written(s.X)), 0)
}

func (f finder) sum(s *ast.AssignStmt) {
	if s.Tok != token.ADD_ASSIGN && s.Tok != token.SUB_ASSIGN || !isNumber(f.info.Types[s.Lhs[0]].Type) {
		return
	}
	m := f.add(s.TokPos, fmt.Sprintf("arithmetic: %s turned", s.Tok))
	f.wrap(m, s.Rhs[0].Pos(), s.Rhs[0].End(), fmt.Sprintf("mutantSum(%d, %s, ", m.id, f.written(s.Lhs[0])))
}
