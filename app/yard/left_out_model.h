// SPDX-License-Identifier: GPL-3.0-or-later
// The valves that a plan leaves out, each with why and what would let it in, for a table.
#pragma once

#include "core/dayplan/plan.h"

#include <QStandardItemModel>

#include <vector>

namespace keyround {

class Session;

class LeftOutModel final : public QStandardItemModel
{
    Q_OBJECT
public:
    explicit LeftOutModel(QObject *parent = nullptr);

    void show(const std::vector<LeftOut> &leftOut, Session &session);
    [[nodiscard]] ValveId valveAt(int row) const;
    /// -1 where the plan does not leave it out.
    [[nodiscard]] int rowOf(const ValveId &valve) const;
    [[nodiscard]] QString reasonAt(int row) const;
};

} // namespace keyround
