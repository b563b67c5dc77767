// SPDX-License-Identifier: GPL-3.0-or-later
// Which valves and which time an answer is about: zone, size, type, role, surface of the street,
// install years; from, to; by month, quarter or year.
#pragma once

#include "core/common/result.h"
#include "core/condition/series.h"

#include <QWidget>

#include <optional>

class QButtonGroup;

namespace keyround {

class CheckedLine;
class ChoiceButton;
class Session;

class FilterPanel final : public QWidget
{
    Q_OBJECT
public:
    explicit FilterPanel(Session &session, QWidget *parent = nullptr);

    [[nodiscard]] ValveFilter filter() const;
    [[nodiscard]] Span span() const;
    [[nodiscard]] PeriodLength length() const;
    /// Offers the zones, sizes and types that the project has now. Where nobody typed a span it
    /// follows the visits.
    void refresh();
    /// Another project: every choice is taken back.
    void forget();

Q_SIGNALS:
    void changed();

private:
    void buildSpan();
    [[nodiscard]] QWidget *buildInstalled();
    /// Takes one end of the install years; empty text takes it back.
    [[nodiscard]] Status takeInstalled(const QString &text, bool isFrom);
    [[nodiscard]] QList<ChoiceButton *> choices() const;
    void setSpan(const Span &span);
    [[nodiscard]] QWidget *buildLengths();

    Session &m_session;
    ChoiceButton *m_zones;
    ChoiceButton *m_sizes;
    ChoiceButton *m_types;
    ChoiceButton *m_roles;
    ChoiceButton *m_surfaces;
    CheckedLine *m_installedFrom = nullptr;
    CheckedLine *m_installedTo = nullptr;
    std::optional<int> m_firstYear;
    std::optional<int> m_lastYear;
    CheckedLine *m_from = nullptr;
    CheckedLine *m_to = nullptr;
    QButtonGroup *m_lengths;
    Span m_span;
    bool m_spanTyped = false;
};

} // namespace keyround
