package ask

import (
	"context"
	"errors"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Question is what the flags of a command ask: a brief put to a catalog.
type Question struct {
	Catalog *catalog.Catalog
	Brief   *constraints.Brief
	Strict  bool

	sources   *Sources
	at        int      // place of the brief among those of the sources
	carry     bool     // a build that is saved carries its parts
	overrides []string // the flags beside --catalog and --brief, as they can be typed again
}

// Ask reads the catalog and the brief that the flags name, or the working
// folder has, and what the flags override.
func (d *Desk) Ask(c *cli.Context) (*Question, error) { return d.askOne(c, supply{}) }

// AskOf is Ask for a build file, which may name catalog and brief.
func (d *Desk) AskOf(c *cli.Context, name string, f *constraints.BuildFile) (*Question, error) {
	return d.askOne(c, buildSupply(name, f))
}

func (d *Desk) askOne(c *cli.Context, build supply) (*Question, error) {
	if n := len(c.StringSlice("brief")); n > 1 {
		return nil, tooMany(n)
	}
	list, err := d.askEach(c, build)
	if err != nil {
		return nil, err
	}
	return list[0], nil
}

// AskEach is Ask for every brief that the flags name. What they override they
// override in each.
func (d *Desk) AskEach(c *cli.Context) ([]*Question, error) { return d.askEach(c, supply{}) }

func (d *Desk) askEach(c *cli.Context, build supply) ([]*Question, error) {
	s, err := sources(flagSupply(c.StringSlice("catalog"), c.StringSlice("brief")), build, thisFolder())
	if err != nil {
		return nil, err
	}
	parts, err := d.catalogBeside(c.Context, s)
	if err != nil {
		return nil, err
	}
	var list []*Question
	for i := range max(1, len(s.Briefs)) {
		brief, err := d.brief(c.Context, s, i)
		if err != nil {
			return nil, err
		}
		q, err := d.put(c, s, i, parts, brief)
		if err != nil {
			return nil, err
		}
		list = append(list, q)
	}
	d.noteSources(s)
	return list, nil
}

// put makes a question of the brief at a place: flags override it.
func (d *Desk) put(c *cli.Context, s *Sources, i int, parts *catalog.Catalog, brief *constraints.Brief) (*Question, error) {
	q := &Question{Catalog: parts, Brief: brief, Strict: c.Bool("strict"), sources: s, at: i, carry: c.Bool("with-parts"), overrides: overrides(c)}
	alone := brief.Validate() // flags may mend it
	if err := override(brief, c); err != nil {
		return nil, err
	}
	var contradictions field.Problems
	switch err := brief.Validate(); {
	case err != nil && alone != nil:
		return nil, err
	case errors.As(err, &contradictions):
		return nil, contradiction(s, contradictions)
	}
	if err := d.wayOf(c.Context, s.brief(i), brief); err != nil {
		return nil, err
	}
	d.noteEach(say.Doubts(brief.Doubts()))
	return q, nil
}

// AskBare reads the brief alone, of a question whose parts are made of numbers on
// the command line. Where no flag names one it asks for nothing, whatever the
// working folder has.
func (d *Desk) AskBare(c *cli.Context) (*Question, error) {
	for _, flag := range []string{"catalog", "keep", "avoid"} {
		if len(c.StringSlice(flag)) > 0 {
			return nil, outcome.Usage("name a build file, or leave --"+flag+" out", "--%s: bare numbers are of no catalog", flag)
		}
	}
	names := c.StringSlice("brief")
	if len(names) > 1 {
		return nil, tooMany(len(names))
	}
	s := &Sources{Catalog: []string{DemoCatalog}, Briefs: flagSupply(nil, names).briefs, catalogBy: byFlag, briefBy: byFlag}
	brief, err := d.brief(c.Context, s, 0)
	if err != nil {
		return nil, err
	}
	return d.put(c, s, 0, nil, brief)
}

// contradiction names what flags and brief contradict each other in: the brief
// alone was valid when it was read.
func contradiction(s *Sources, problems field.Problems) error {
	demo := s.briefBy == byNobody
	for i := range problems {
		if demo && problems[i].Hint == "" && problems[i].File != "" {
			problems[i].Hint = "this is the embedded brief: set the key as well, by its flag or --set, or name a brief of your own"
		}
	}
	return &outcome.UsageError{Problems: problems}
}

// Again is the flags of the question, each after a space, as they can be typed
// behind a command that takes no build file.
func (q *Question) Again() string { return say.Repeated(q.Words()) }

// AgainOf is Again behind the build file that the question was asked of.
func (q *Question) AgainOf() string { return say.Repeated(q.WordsOf()) }

// AgainSaved is Again behind a build file that is saved as an answer.
func (q *Question) AgainSaved() string {
	return say.Repeated(append(q.sources.words(q.at, q.sources.asSaved(q.at), q.sources.folder), q.overrides...))
}

// Words are the flags of Again.
func (q *Question) Words() []string {
	return append(q.sources.words(q.at, q.sources.folder), q.overrides...)
}

// WordsOf are the flags of AgainOf.
func (q *Question) WordsOf() []string {
	return append(q.sources.words(q.at, q.sources.build, q.sources.folder), q.overrides...)
}

// AgainEach is the flags of questions that differ in their briefs.
func AgainEach(list []*Question) string {
	first := list[0].sources
	words := first.words(len(first.Briefs), first.folder) // --catalog alone
	for _, q := range list {
		words = append(words, "--brief", say.Typed(first.brief(q.at)))
	}
	return say.Repeated(append(words, list[0].overrides...))
}

// Sources are where the question comes from.
func (q *Question) Sources() *Sources { return q.sources }

// problem puts the question's brief to its catalog.
func (q *Question) problem() (*constraints.Problem, error) {
	return constraints.NewProblem(q.Catalog, q.Brief)
}

// Space is the question's problem where its combinations are to be searched: an
// error where they are too many to number.
func (q *Question) Space() (*constraints.Problem, error) {
	p, err := q.problem()
	if err != nil {
		return nil, err
	}
	if err := search.Numberable(p); err != nil {
		return nil, field.Problems{{Message: err.Error(), Hint: "keep fewer parts, as in --keep motor=" + p.Motors[0].ID}}
	}
	return p, nil
}

// Aimed is the problem of a question about all builds: the brief must ask for
// something, and the combinations must not be too many to number.
func (q *Question) Aimed() (*constraints.Problem, error) {
	if q.Brief.AimsAtNothing() {
		return nil, aimless()
	}
	return q.Space()
}

// tooMany is the error of a command that takes one brief.
func tooMany(n int) error {
	return outcome.Usage("name one; only gearsearch rank --share takes more", "%d briefs are named", n)
}

// brief reads the brief at a place; where none is named it asks for nothing.
func (d *Desk) brief(ctx context.Context, s *Sources, i int) (*constraints.Brief, error) {
	name := s.brief(i)
	if name == "" {
		return constraints.DefaultBrief(), nil
	}
	src, err := d.source(ctx, name)
	if err != nil {
		return nil, err
	}
	if constraints.IsBuild(src) && !catalog.Carries(src) {
		what := "--brief " + say.Shown(name)
		if s.briefBy != byFlag {
			what = say.Shown(name)
		}
		return nil, outcome.Usage("gearsearch sheet "+say.Shown(name), "%s: this is a build file, not a brief", what)
	}
	return constraints.ReadBrief(src)
}

// source reads a brief or build file: - is standard input, and demo:name an
// embedded brief.
func (d *Desk) source(ctx context.Context, name string) (field.Source, error) {
	if demo, ok := strings.CutPrefix(name, DemoPrefix); ok {
		return demoSource(demo)
	}
	if name == "-" {
		if err := d.listen(); err != nil {
			return field.Source{}, err
		}
		data, err := d.Files.Read(ctx, "", d.Stdin)
		return field.Source{Name: files.StandardInput, Data: data}, err
	}
	data, err := d.Files.Read(ctx, name, nil)
	return field.Source{Name: name, Data: data}, err
}

func demoSource(name string) (field.Source, error) {
	if src, ok := catalog.DemoBrief(name); ok {
		return src, nil
	}
	return field.Source{}, outcome.Usage("there are "+demoBriefList(), "no embedded brief %s", say.Shown(DemoPrefix+name))
}

// demoBriefNames are the names of the embedded briefs.
func demoBriefNames() []string {
	var names []string
	for _, src := range catalog.DemoBriefs() {
		names = append(names, catalog.DemoBriefName(src))
	}
	return names
}

// demoBriefList names the embedded briefs for a hint.
func demoBriefList() string {
	return DemoPrefix + strings.Join(demoBriefNames(), ", "+DemoPrefix)
}

// override sets the keys of the brief that flags give, those of --set last.
func override(b *constraints.Brief, c *cli.Context) error {
	for _, f := range BriefFlags {
		if !c.IsSet(f.Name) {
			continue
		}
		if err := f.apply(b, c.String(f.Name)); err != nil {
			return err
		}
	}
	for _, from := range []struct {
		flag string
		set  func(b *constraints.Brief, flag, text string) error
	}{
		{"keep", setParts}, {"avoid", setParts}, {"weight", setWeight}, {"set", setKey},
	} {
		for _, text := range c.StringSlice(from.flag) {
			if err := from.set(b, from.flag, text); err != nil {
				return err
			}
		}
	}
	return nil
}

// setParts sets the parts that --keep or --avoid names: slot=id,id.
func setParts(b *constraints.Brief, section, text string) error {
	slot, ids, ok := strings.Cut(text, "=")
	if !ok || ids == "" {
		return outcome.Usage("write --"+section+" slot=id, as in --"+section+" wheel=quay-97", "--%s %s names no part", section, say.Shown(text))
	}
	if _, known := constraints.SlotNamed(slot); !known {
		return outcome.Usage(SlotHint(slot), "--%s %s: no slot %s", section, say.Shown(text), field.Quote(slot))
	}
	return flagFault(b.AddParts(section, slot, strings.Split(ids, ","), "--"+section), section+"."+slot)
}

// setWeight sets the weight that --weight names: criterion=number.
func setWeight(b *constraints.Brief, _, text string) error {
	name, value, ok := strings.Cut(text, "=")
	if !ok {
		return outcome.Usage("write --weight name=value, as in --weight price=5", "--weight %s has no value", say.Shown(text))
	}
	return flagFault(b.Set("weights."+name, value, "--weight"), "weights."+name)
}

// setKey sets the key that --set names: section.key=value.
func setKey(b *constraints.Brief, _, text string) error {
	key, value, ok := strings.Cut(text, "=")
	if !ok {
		return outcome.Usage("write --set section.key=value, as in --set limit.mass_kg=12", "--set %s has no value", say.Shown(text))
	}
	key = strings.TrimSpace(key)
	return flagFault(b.Set(key, strings.TrimSpace(value), "--set "+say.Shown(key)), key)
}

// apply sets the flag's key from its text.
func (f *BriefFlag) apply(b *constraints.Brief, text string) error {
	origin := "--" + f.Name
	if f.read != nil {
		if _, err := f.read(text); err != nil {
			return outcome.Usage("", "%s %s: %v", origin, say.Shown(text), err)
		}
	}
	return flagFault(b.Set(f.Key, text, origin), f.Key)
}

// flagFault makes a problem with the value that a flag gives a key wrong
// usage.
func flagFault(err error, key string) error {
	var p *field.Problem
	if !errors.As(err, &p) {
		return err
	}
	if p.Hint == "" {
		return outcome.Usage(keysHint(key), "%s", p.Text())
	}
	return outcome.Usage(p.Hint, "%s", p.Text())
}

// keysHint lists the keys of a section for a key that is not one of them.
func keysHint(key string) string {
	section, name, _ := strings.Cut(key, ".")
	var names []string
	for _, k := range constraints.BriefKeys() {
		if k.Section == section {
			names = append(names, k.Key)
		}
	}
	if len(names) == 0 || slices.Contains(names, name) {
		return ""
	}
	return "[" + section + "] has " + strings.Join(names, ", ")
}

// SlotHint is a hint at the slot that a word may have meant, or lists them.
func SlotHint(word string) string {
	names := strings.Split(slotNames(), ", ")
	if near, ok := field.Nearest(word, slices.Values(names)); ok {
		return "did you mean " + near + "?"
	}
	return "the slots are " + slotNames()
}

// overrides lists the flags that make the question beside those that name
// catalog and brief, as they can be typed again in another command.
func overrides(c *cli.Context) []string {
	var out []string
	for _, f := range QuestionFlags() {
		name := f.Names()[0]
		if !c.IsSet(name) || name == "catalog" || name == "brief" {
			continue
		}
		switch f.(type) {
		case *cli.BoolFlag:
			if c.Bool(name) {
				out = append(out, say.Dashed(name))
			}
		case *cli.StringSliceFlag:
			for _, value := range c.StringSlice(name) {
				out = append(out, say.Dashed(name), say.Typed(value))
			}
		default:
			out = append(out, say.Dashed(name), say.Typed(c.String(name)))
		}
	}
	return out
}

// NoArguments refuses arguments of a command that takes none, and says what
// they may have been meant for.
func (d *Desk) NoArguments(c *cli.Context) error {
	if !c.Args().Present() {
		return nil
	}
	if err := d.BuildGiven(c, c.Args().First()); err != nil {
		return err
	}
	return outcome.Usage("a catalog is named by --catalog, a brief by --brief", "%s takes no argument %s", c.Command.Name, say.Shown(c.Args().First()))
}

// BuildGiven is an error where a command that takes no build file is given one; it
// names the commands that take one.
func (d *Desk) BuildGiven(c *cli.Context, arg string) error {
	data, err := d.Files.Read(c.Context, arg, nil)
	if errors.Is(err, outcome.ErrInterrupted) {
		return err
	}
	if err != nil || !constraints.IsBuild(field.Source{Name: arg, Data: data}) {
		return nil
	}
	var takers []string
	for _, other := range c.App.Commands {
		if strings.HasPrefix(other.ArgsUsage, "BUILD.toml") {
			takers = append(takers, other.Name)
		}
	}
	return outcome.Usage("gearsearch "+takers[0]+" "+say.Typed(arg), "%s takes no build file; %s", c.Command.Name, say.Together(takers, "does", "do"))
}
