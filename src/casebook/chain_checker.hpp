// Walks the chains of changes and says where one was altered, cut, or forked.
#pragma once

#include "tedge/casebook/casebook.hpp"

namespace tedge::casebook {

// Takes changes in the order of (replica, case, number, id).
class ChainChecker {
public:
    explicit ChainChecker(CheckReport& report) : report_(&report) {}
    void take(const Change& change);

private:
    void check_place(const Change& change);
    void problem(const Change& change, const std::string& what);

    // Changes of one chain with one number: more than one where the chain forks.
    struct Link {
        Uuid replica;
        Uuid case_id;
        std::int64_t number = 0;
        std::vector<Sha256Digest> hashes;
    };
    CheckReport* report_;
    Link before_;
    Link here_;
};

}  // namespace tedge::casebook
