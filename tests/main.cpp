#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include <cstdio>

namespace {

unsigned cases_run = 0;

/// Counts the cases that ran; doctest itself calls a run of none a success.
struct Counter : doctest::IReporter {
    explicit Counter(const doctest::ContextOptions&) {}
    void report_query(const doctest::QueryData&) override {}
    void test_run_start() override {}
    void test_run_end(const doctest::TestRunStats& stats) override {
        cases_run = stats.numTestCasesPassingFilters;
    }
    void test_case_start(const doctest::TestCaseData&) override {}
    void test_case_reenter(const doctest::TestCaseData&) override {}
    void test_case_end(const doctest::CurrentTestCaseStats&) override {}
    void test_case_exception(const doctest::TestCaseException&) override {}
    void subcase_start(const doctest::SubcaseSignature&) override {}
    void subcase_end() override {}
    void log_assert(const doctest::AssertData&) override {}
    void log_message(const doctest::MessageData&) override {}
    void test_case_skipped(const doctest::TestCaseData&) override {}
};

}  // namespace

REGISTER_LISTENER("counter", 1, Counter);

int main(int argc, char** argv) {
    doctest::Context context(argc, argv);
    const int result = context.run();
    if (context.shouldExit()) return result;
    if (cases_run == 0) {
        std::fputs("no test case matched the filter: that is a failure\n", stderr);
        return 1;
    }
    return result;
}
