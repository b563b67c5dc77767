// SPDX-License-Identifier: GPL-3.0-or-later
// The one way in which core reports an expected failure: a value, or an error whose message a
// user can act on (what happened, to what, what to do next). Nothing throws across core's edge.
#pragma once

#include <QString>

#include <tl/expected.hpp>

#include <utility>

namespace keyround {

enum class ErrorCode {
    BadInput,     ///< what was given cannot be read as what it should be
    NotFound,     ///< a file, valve, round or column that is named does not exist
    Refused,      ///< a rule forbids it: newer schema, file in use, read-only place
    StorageFault, ///< the disk or the database failed
    Damaged,      ///< stored content does not match its hash or its structure
    Cancelled,    ///< the user stopped it; nothing was changed
};

struct Error
{
    ErrorCode code = ErrorCode::BadInput;
    QString message;
};

template <typename T> using Result = tl::expected<T, Error>;
using Status = Result<void>;

[[nodiscard]] inline tl::unexpected<Error> fail(ErrorCode code, QString message)
{
    return tl::unexpected<Error>(Error{code, std::move(message)});
}

} // namespace keyround
