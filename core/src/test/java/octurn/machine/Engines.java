package octurn.machine;

/** The engines, all of which every test of the chip's rules is done with. */
public enum Engines {
    CLEAR(Engine.Maker.CLEAR),
    FAST(Engine.Maker.FAST);

    private final Engine.Maker maker;

    Engines(Engine.Maker maker) {
        this.maker = maker;
    }

    public Engine.Maker maker() {
        return maker;
    }
}
