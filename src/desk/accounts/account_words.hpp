// The accounts of a picture in words and rows.
#pragma once

#include <QString>
#include <string>
#include <vector>

#include "accounts/figure_table.hpp"
#include "tedge/usecases/portfolio.hpp"

namespace tedge::desk {

// A row for each thing that is owed once: for, estimated, actual, still open. `today`: ISO day. Where there is no room
// for a column of estimates, each stands below what it is for.
enum class EstimatesIn { their_column, the_words };
[[nodiscard]] std::vector<FigureCells> entry_rows(const usecases::CaseAccounts& accounts,
                                                  const casebook::CaseSnapshot& snapshot, const std::string& today,
                                                  EstimatesIn where);
// Cash, what is owed, VAT, result so far, in the end and at worst.
[[nodiscard]] QString sums_table(const usecases::CaseAccounts& accounts, const usecases::Outlook& outlook);
// Who has which part of it; "" where nobody has.
[[nodiscard]] QString shares_table(const usecases::CaseAccounts& accounts, const usecases::Outlook& outlook,
                                   const casebook::CaseSnapshot& snapshot);

}  // namespace tedge::desk
