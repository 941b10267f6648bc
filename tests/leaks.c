/* For builds with AddressSanitizer: what the font libraries keep for the life of the process, and
 * what the layout library forgets of a graph in several parts with edges within a rank (16 bytes
 * each). */
const char *__lsan_default_suppressions(void);
const char *__lsan_default_suppressions(void)
{
    return "leak:libfontconfig\nleak:libpango\nleak:libglib\nleak:libgobject\nleak:libcairo\n"
           "leak:libgvc\n";
}

const char *__lsan_default_options(void);
const char *__lsan_default_options(void)
{
    return "print_suppressions=0";
}
