package octurn.cli.command;

import octurn.design.Input;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.TypeConversionException;

/** The number of a cycle on the command line. */
final class CycleNumber implements ITypeConverter<Long> {
    @Override
    public Long convert(String value) {
        if (value.matches("[0-9]{1,16}") && Long.parseLong(value) <= Input.MAX_CYCLE) {
            return Long.parseLong(value);
        }
        throw new TypeConversionException("%s is not a cycle in 0..%d".formatted(value, Input.MAX_CYCLE));
    }
}
