/* For builds with AddressSanitizer: what the font libraries keep for the life of the process. */
const char *__lsan_default_suppressions(void);
const char *__lsan_default_suppressions(void)
{
    return "leak:libfontconfig\nleak:libpango\nleak:libglib\nleak:libgobject\nleak:libcairo\n";
}

const char *__lsan_default_options(void);
const char *__lsan_default_options(void)
{
    return "print_suppressions=0";
}
