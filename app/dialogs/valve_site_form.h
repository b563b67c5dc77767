// SPDX-License-Identifier: GPL-3.0-or-later
// What is known of a valve's place in its street, for its work zone: each answer in a line of its
// own that can be typed over or emptied, and what set-up follows from them. What holds for the
// whole street is marked, since it is changed for all its valves. Undoable.
#pragma once

#include "core/common/ids.h"
#include "core/workzone/site_answers.h"

#include <QWidget>

#include <vector>

class QComboBox;
class QGridLayout;
class QLabel;
class QPushButton;

namespace keyround {

class CheckedLine;
class Session;

class ValveSiteForm final : public QWidget
{
    Q_OBJECT
public:
    explicit ValveSiteForm(Session &session, QWidget *parent = nullptr);

    /// A null id empties the form.
    void showValve(const ValveId &valve);
    /// Where the answer is typed; null where it is chosen.
    [[nodiscard]] CheckedLine *line(SiteQuestion question) const;
    [[nodiscard]] QComboBox *choice(SiteQuestion question) const;

protected:
    void resizeEvent(QResizeEvent *event) override;

private:
    /// One of the two.
    struct Field
    {
        CheckedLine *line = nullptr;
        QComboBox *choice = nullptr;
    };
    void addField(QGridLayout *grid, SiteQuestion question);
    void refresh(bool isAnother);
    void showSetUp();
    void fitWords();
    void saveSheet();
    Status answer(SiteQuestion question, const std::optional<double> &value);

    Session &m_session;
    ValveId m_valve;
    QLabel *m_street;
    std::vector<Field> m_fields; ///< by SiteQuestion
    QLabel *m_headline;
    QLabel *m_counts;
    QPushButton *m_sheet;
};

} // namespace keyround
